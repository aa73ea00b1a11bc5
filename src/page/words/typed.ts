/**
 * Numbers as they are typed, on the pad or on keys, with the decimal sign of the language. What cannot be is not
 * taken at all, and it is said why: a second sign, more decimals than count, more than there can be.
 */

/** What a number that is typed may be. */
export interface Limits {
  /** The largest. */
  readonly most: number;
  /** How many decimals count. */
  readonly decimals: number;
}

/** Why what was typed was not taken. */
export type NotTaken = "sign" | "decimals" | "most";

export interface Typed {
  readonly text: string;
  readonly notTaken: NotTaken | null;
}

/** The API's own limits of volumes in mL, and of rates in mL/h. */
export const VOLUME: Limits = { most: 100_000, decimals: 3 };
export const RATE: Limits = { most: 100_000, decimals: 3 };

/** What a field holds after it held `before` and somebody made it `after`; both signs are understood. */
export function typing(before: string, after: string, decimal: string, limits: Limits): Typed {
  const text = after.replace(/[.,]/g, decimal).replace(/[^\d.,]/g, "");
  const [whole = "", ...parts] = text.split(decimal);
  if (parts.length > 1 || (parts.length > 0 && limits.decimals === 0)) {
    return { text: before, notTaken: "sign" };
  }
  if ((parts[0] ?? "").length > limits.decimals) return { text: before, notTaken: "decimals" };
  const plain = parts.length === 0 ? trimmed(whole) : `${trimmed(whole) || "0"}${decimal}${parts[0]}`;
  if ((numberTyped(plain, decimal) ?? 0) > limits.most) return { text: before, notTaken: "most" };
  return { text: plain, notTaken: null };
}

/** The number that is typed; null where there is none yet. */
export function numberTyped(text: string, decimal: string): number | null {
  if (!/\d/.test(text)) return null;
  return Number(text.replace(decimal, "."));
}

/** A number as it would be typed, for a field that is filled in beforehand. */
export function asTyped(value: number, decimal: string): string {
  return String(value).replace(".", decimal);
}

/** Without zeros before the number, which read like more of it. */
function trimmed(whole: string): string {
  return whole.replace(/^0+(?=\d)/, "");
}

/** "05:1" from "051": a clock time as it is typed, at most four digits that the clock can show. */
export function typingTime(before: string, after: string): string {
  const digits = after.replace(/\D/g, "").slice(0, 4);
  const [a, b, c] = [...digits].map(Number);
  const can = (a ?? 0) <= 2 && (a !== 2 || (b ?? 0) <= 3) && (c ?? 0) <= 5;
  if (!can) return before;
  // The colon stands once there is something after it, so that it can be taken away again.
  return digits.length > 2 ? `${digits.slice(0, 2)}:${digits.slice(2)}` : digits;
}
