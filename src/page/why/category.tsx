/** Why a figure of the balance is what it is: the parts of its category, what is taken off, and what was measured. */

import type { Balance, Entry, Stay } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import type { Asked } from "../shift/asked.js";
import { type Speech, useSpeech } from "../words/language.js";
import { moment } from "../words/wall.js";
import { EntryList } from "./entries.js";
import { Addition } from "./sums.js";

type AskedCategory = Extract<Asked, { of: "category" }>;
type Part = Balance["intake"]["rows"][number]["parts"][number];

interface CategoryWhyProps {
  readonly asked: AskedCategory;
  readonly stay: Stay;
  readonly sheet: ShiftSheet;
}

export function CategoryWhy({ asked, stay, sheet }: CategoryWhyProps) {
  const speech = useSpeech();
  const { words, volume, figure } = speech;
  const { row, index, value, side } = asked;
  const { balance } = sheet.shift;
  const parts = row.parts
    .map((part) => ({ part, volume: index === null ? part.total : (part.volumes[index] ?? 0) }))
    .filter((one) => one.volume !== 0);
  const lost = balance.lost.filter(({ takenOff }) => side === "intake" && takenOff > 0);
  return (
    <>
      {parts.length > 0 && (
        <Addition
          caption={words.why.parts}
          rows={parts.map((one) => [partName(one.part, sheet, speech), volume(one.volume)])}
        >
          {volume(value)}
        </Addition>
      )}
      {parts
        .filter(({ part }) => part.counts !== 1)
        .map(({ part }) => (
          <p key={part.label}>
            {partName(part, sheet, speech)} {words.why.counts(figure(part.counts))}.
          </p>
        ))}
      {lost.map((loss) => (
        <p key={loss.entry}>{words.why.lostOff(volume(loss.takenOff))}</p>
      ))}
      {side === "output" && balance.irrigation.some(({ instilled }) => instilled > 0) && (
        <p>{words.why.irrigant}</p>
      )}
      <EntryList entries={measuredFor(asked, stay, sheet)} to={asked.to} />
    </>
  );
}

/** "Left forearm, primary, Sodium chloride 0.9 %": a part by its own words, else as the service calls it. */
function partName(part: Part, { shift }: ShiftSheet, { words }: Speech): string {
  const line = shift.volumes.rows.find(({ key }) => key === part.line)?.label ?? part.line;
  const role = part.role === null ? null : words.roles[part.role];
  const own = [line, role, part.item, part.site, part.channel].filter((one) => one !== null);
  return own.length > 0 ? own.join(", ") : words.why.amounts;
}

/** The entries of a category in its interval, by the unit's rule for what lies on a boundary. */
function measuredFor({ row, from, to }: AskedCategory, stay: Stay, { shift, entries }: ShiftSheet): Entry[] {
  const ends = shift.balance.conventions.at(-1)?.boundary !== "starts";
  const [start, end] = [moment(from), moment(to)];
  // A stay's first interval also takes what is charted at its start.
  const first = stay.shifts.at(-1)?.start === from;
  return entries.filter(({ at, category }) => {
    if (at === undefined || category !== row.key) return false;
    const when = moment(at);
    return ends ? (when > start || (first && when === start)) && when <= end : when >= start && when < end;
  });
}
