/** Names for what several keys tell apart together. */

/** One text for some keys, unlike that of any others: each with its length before it, none as a dash. */
export function named(...keys: readonly (string | null)[]): string {
  let name = "";
  for (const key of keys) name += key === null ? "-" : `${key.length}:${key}`;
  return name;
}
