/**
 * Sites: where irrigant goes in and output comes by, whoever names them. A site is named in words, by a line
 * that irrigates it, by what is put in by hand, and by what comes out; capitals and outer spaces make no
 * other site of it. A line's key stands for the line's site, unless a site has that very name.
 */

import type { Placed } from "../infusion/entry.js";

export interface Sites {
  /** The one name of a site: as the line that irrigates it has it, or as it was charted first. */
  named(name: string): string;
  /** The site a line irrigates; null of any other line, and of none. */
  irrigatedBy(line: string | null): string | null;
}

/** The sites that entries name, in the order in which they count. */
export function sitesOf(entries: readonly Placed[]): Sites {
  const names = new Map<string, string>();
  const name = (site: string) => {
    const plain = plainly(site);
    if (!names.has(plain)) names.set(plain, site.trim());
  };
  const lines = new Map<string, string>();
  for (const { entry } of entries) {
    if (entry.kind !== "line-placed" || entry.route !== "irrigation") continue;
    lines.set(entry.line, entry.site ?? entry.line);
    if (entry.site !== undefined) name(entry.site);
  }
  const keys = new Map([...lines].map(([line, site]) => [plainly(line), site]));
  const meant = (site: string) => (names.has(plainly(site)) ? site : (keys.get(plainly(site)) ?? site));
  for (const { entry } of entries) {
    if (entry.kind === "irrigant-instilled" || entry.kind === "output-measured") {
      if (entry.site !== undefined) name(meant(entry.site));
    } else if ("chamber" in entry) name(meant(entry.chamber));
  }
  const named = (site: string) => names.get(plainly(meant(site))) ?? meant(site).trim();
  return {
    named,
    irrigatedBy(line) {
      const site = line === null ? undefined : lines.get(line);
      return site === undefined ? null : named(site);
    },
  };
}

/** How a name is compared. */
function plainly(name: string): string {
  return name.trim().toLowerCase();
}
