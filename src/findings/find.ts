/** Runs the rules over the evidence: what a person should look at, each cause once. */

import type { TotalJudged } from "../infusion/evidence.js";
import { type Evidence, type Found, idOfFinding, type Rule } from "./finding.js";
import { oneEach } from "./one-cause.js";
import { RULES } from "./rules.js";

/**
 * The findings of the rules that run when something is recorded, of those that run when somebody asks, or
 * of all; in the order of the rules, one per identity.
 */
export function findingsIn(evidence: Evidence, which: Rule["runs"] | "all"): Found[] {
  // What is found only when asked may be told by what is found at once, so then all rules are run.
  const run = which === "recording" ? RULES.filter(({ runs }) => runs === which) : RULES;
  const byRule = new Map<Found, Rule["runs"]>();
  for (const rule of run) for (const one of rule.find(evidence)) byRule.set(one, rule.runs);
  const found = oneEach(onePerIdentity([...byRule.keys()]));
  return which === "asking" ? found.filter((one) => byRule.get(one) === which) : found;
}

function onePerIdentity(found: readonly Found[]): Found[] {
  const first = new Map<string, Found>();
  for (const one of found) {
    const id = idOfFinding(one);
    if (!first.has(id)) first.set(id, one);
  }
  return [...first.values()];
}

/** The reading of a total that a question is about, which may have likely reasons; a chamber's has none. */
export function readingInQuestion(found: Found, { collected }: Evidence): TotalJudged | undefined {
  if (found.code !== "reading-disagrees" && found.code !== "unrecorded-clear") return undefined;
  return collected.readings.find(({ entry }) => entry === found.subject);
}
