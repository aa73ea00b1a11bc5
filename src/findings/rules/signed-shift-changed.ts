/**
 * What somebody signed is not so any more: something was recorded or corrected since, or it came to light
 * that the patient was in another unit then, which signs for its own time.
 */

import { greater, NOTHING } from "../../infusion/quantity.js";
import type { Evidence, Found, Rule, SignedSpan } from "../finding.js";

/** Whatever became of the time that a signature stands for, it is one finding. */
export const signedShiftChanged: Rule = {
  code: "signed-shift-changed",
  runs: "recording",
  find: (evidence) => {
    const changed = evidence.signed.filter(({ moved, lost }) => moved !== null || lost !== null);
    const signatures = [...new Set(changed.map(({ entry }) => entry))];
    return signatures.map((id) =>
      found(
        id,
        changed.filter(({ entry }) => entry === id),
        evidence,
      ),
    );
  },
};

function found(entry: string, spans: readonly SignedSpan[], { words }: Evidence): Found {
  const [first, last] = [spans[0]!, spans.at(-1)!];
  const { time, volume } = words;
  const moved = spans.flatMap(({ moved }) => moved ?? []);
  const figures = moved.reduce((sum, one) => sum + one.figures, 0);
  const most = moved.reduce((most, one) => greater(most, one.most), NOTHING);
  const lost = spans.flatMap(({ lost }) => lost ?? []);
  const units = [...new Set(lost.flatMap(({ why, unit }) => (why === "other-unit" ? [unit] : [])))];
  const said = [
    ...(units.length > 0 ? [`it is known that the patient was in ${units.join(" and ")}`] : []),
    ...(lost.some(({ why }) => why === "hour-cut") ? ["an hour that was signed is cut in two"] : []),
    ...(figures > 0 ? [figures === 1 ? "1 figure is another" : `${figures} figures are others`] : []),
  ].join(", and ");
  const howMuch = most > NOTHING ? `, by ${volume(most)} at most` : "";
  const who = units.length > 0 ? ` from ${units.join(" and ")}` : "";
  return {
    code: "signed-shift-changed",
    severity: "attention",
    subject: entry,
    channel: null,
    shift: first.shift,
    start: first.start,
    end: last.end,
    entries: [entry],
    volume: moved.length === 0 ? null : most,
    sentence: `${first.by} signed ${time(first.start)} to ${time(last.end)} at ${time(first.signedAt)}; since then ${said}${howMuch}.`,
    settledBy: [{ text: `A new signature${who}, after looking at what changed.` }],
  };
}
