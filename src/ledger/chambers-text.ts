/** What chambers held when somebody last looked, as JSON: what they hold now nobody can know. */

import type { State } from "../infusion/state.js";
import { formatInstant } from "../time/zone.js";
import { volumeText } from "./flow-text.js";

/** Every chamber that collects; with the stay they end. `emptied` are the entries since which nobody read one. */
export function chambersText({ chambers, discharged }: State, emptied: ReadonlySet<string>, zone: string) {
  if (discharged) return [];
  return [...chambers.values()]
    .sort((a, b) => (a.chamber < b.chamber ? -1 : 1))
    .map(({ chamber, category, level, from, entry }) => ({
      chamber,
      category,
      expected: null,
      lastReading: emptied.has(entry) ? null : volumeText(level),
      atRisk: null,
      since: formatInstant(from, zone),
      by: entry,
    }));
}
