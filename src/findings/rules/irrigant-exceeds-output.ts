/**
 * More irrigant than came back. A site was emptied of less than was put in: something is missing, miscounted,
 * or still there. Or it was not emptied, and what came by no named site may have come from there.
 */

import type { Output } from "../../balance/true-output.js";
import { lesser, NOTHING, plus, type Volume } from "../../infusion/quantity.js";
import type { Evidence, Found, Proposal, Rule } from "../finding.js";
import { irrigatedIn } from "../irrigated.js";
import { reportedAs } from "../lookup.js";

export const irrigantExceedsOutput: Rule = {
  code: "irrigant-exceeds-output",
  // What went in since a site was last emptied may reach back as far as the stay.
  runs: "asking",
  find: (evidence) => {
    const irrigated = irrigatedIn(evidence);
    if (irrigated === null) return [];
    const { outputs, unnamed } = irrigated;
    return [
      ...outputs.filter(({ exceeds }) => exceeds > NOTHING).map((one) => exceeding(one, evidence)),
      ...[...unnamed].flatMap(([site, { came, stands }]) => {
        const may = came.filter((one) => mayHaveComeBy(site, one, outputs));
        return may.length === 0 ? [] : [unnamedFrom(site, may, stands, evidence)];
      }),
    ];
  },
};

function exceeding({ entry, at, site, exceeds, since }: Output, { words }: Evidence): Found {
  const from = since === null ? "" : ` since ${words.time(since)}`;
  return {
    code: "irrigant-exceeds-output",
    severity: "attention",
    subject: entry,
    channel: null,
    start: at,
    entries: [entry],
    volume: exceeds,
    sentence:
      `By ${words.time(at)} ${words.volume(exceeds)} more irrigant had gone into ${site} than came out ` +
      `of it${from}: the output is negative by that much.`,
    settledBy: [
      { text: "What else came out by this site, recorded late." },
      { text: "An amendment of the irrigant or of the output, if one was misread." },
    ],
  };
}

/** As far as is known what comes by the site, it is of that; else of what irrigant may come back in at all. */
function mayHaveComeBy(site: string, { category }: Output, outputs: readonly Output[]): boolean {
  const known = outputs.filter((one) => one.site === site).map((one) => one.category);
  if (known.length > 0) return known.includes(category);
  return category !== "emesis" && category !== "fluid-removal";
}

/** It hangs on the first that names no site while irrigant stands at one. */
function unnamedFrom(site: string, came: readonly Output[], stands: Volume, evidence: Evidence): Found {
  const { words } = evidence;
  const whole = came.map(({ volume }) => volume).reduce(plus, NOTHING);
  const { at, entry } = came[0]!;
  const when = came.length === 1 ? `At ${words.time(at)}` : `Since ${words.time(at)}`;
  return {
    code: "irrigant-exceeds-output",
    severity: "attention",
    subject: entry,
    channel: null,
    start: at,
    entries: came.map((one) => one.entry),
    volume: lesser(whole, stands),
    sentence:
      `${when} ${words.volume(whole)} came out by no named site while ${words.volume(stands)} of irrigant ` +
      `stood in ${site}: if it came from there, irrigant counts as output.`,
    settledBy: [
      {
        text: `It came from ${site}: the output says so.`,
        proposals: came.flatMap((one) => namingSite(one, site, evidence)),
      },
      { text: `It did not: the next emptying of ${site} takes off its irrigant.` },
    ],
  };
}

function namingSite({ entry: id }: Output, site: string, evidence: Evidence): Proposal[] {
  const entry = reportedAs(evidence, id)?.placed.entry;
  if (entry?.kind !== "output-measured") return [];
  return [{ do: "amend", target: id, replacement: { ...entry, site }, reason: "the site was not named" }];
}
