/** Runs the rules over the evidence: what a person should look at, each cause once. */

import type { TotalJudged } from "../infusion/evidence.js";
import { type Evidence, type Found, idOfFinding, type Rule, type Settlement } from "./finding.js";
import { oneEach } from "./one-cause.js";
import { RULES } from "./rules.js";

/** What would explain a reading that disagrees, likeliest first. */
export type ReasonsFor = (reading: TotalJudged) => readonly Settlement[];

/**
 * The findings of the rules that run when something is recorded, of those that run when somebody asks, or
 * of all; in the order of the rules, one per identity. What settles a reading in question begins with the
 * reasons that are handed in for it.
 */
export function findingsIn(
  evidence: Evidence,
  which: Rule["runs"] | "all",
  reasonsFor: ReasonsFor = () => [],
): Found[] {
  // What is found only when asked may be told by what is found at once, so then all rules are run.
  const run = which === "recording" ? RULES.filter(({ runs }) => runs === which) : RULES;
  const byRule = new Map<Found, Rule["runs"]>();
  for (const rule of run) for (const one of rule.find(evidence)) byRule.set(one, rule.runs);
  const found = oneEach(onePerIdentity([...byRule.keys()]));
  const asked = which === "asking" ? found.filter((one) => byRule.get(one) === which) : found;
  return asked.map((one) => withReasons(one, evidence, reasonsFor));
}

function onePerIdentity(found: readonly Found[]): Found[] {
  const first = new Map<string, Found>();
  for (const one of found) {
    const id = idOfFinding(one);
    if (!first.has(id)) first.set(id, one);
  }
  return [...first.values()];
}

/** A question about a reading of a total hangs on that reading; a chamber's has no reasons of its own. */
function withReasons(found: Found, { collected }: Evidence, reasonsFor: ReasonsFor): Found {
  if (found.code !== "reading-disagrees" && found.code !== "unrecorded-clear") return found;
  const reading = collected.readings.find(({ entry }) => entry === found.subject);
  if (reading === undefined) return found;
  return { ...found, settledBy: [...reasonsFor(reading), ...found.settledBy] };
}
