/** The patients of a shift, a row each: what nobody wrote down or knows, what is open, the net, how it is signed. */

import type { Measure } from "../api/shapes.js";
import { useChoice } from "../ui/going.js";
import { type Speech, useSpeech } from "../words/language.js";
import { duration } from "../words/numbers.js";
import { Link } from "./link.js";
import { measureValue } from "./measure-value.js";
import { countedByCode, type RoundRow } from "./standing.js";

const MINUTE = 60_000;

interface RoundTableProps {
  readonly rows: readonly RoundRow[];
  /** The measure by which they were chosen or ordered, for a column of its own. */
  readonly measure: Measure | null;
}

export function RoundTable({ rows, measure }: RoundTableProps) {
  const { words } = useSpeech();
  const { columns } = words.round;
  return (
    <table className="round">
      <caption className="unseen">{words.round.caption}</caption>
      <thead>
        <tr>
          <th scope="col">{columns.patient}</th>
          <th scope="col">{columns.unwritten}</th>
          <th scope="col">{columns.unknown}</th>
          <th scope="col">{columns.open}</th>
          <th scope="col">{columns.net}</th>
          <th scope="col">{columns.signed}</th>
          {measure && (
            <th scope="col" lang="en">
              {measure.label}
            </th>
          )}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <Row key={`${row.audited.encounter} ${row.audited.from}`} row={row} measure={measure} />
        ))}
      </tbody>
    </table>
  );
}

interface RowProps {
  readonly row: RoundRow;
  readonly measure: Measure | null;
}

function Row({ row, measure }: RowProps) {
  const speech = useSpeech();
  const { words, volume } = speech;
  const choice = useChoice();
  const { audited, stay, shift, unwritten, atLeast } = row;
  const unknown = audited.values["unknown-minutes"] ?? 0;
  const to = { ...choice, encounter: audited.encounter, view: "findings" } as const;
  return (
    <tr>
      <th scope="row">
        <Link to={to}>
          <span className="bed">
            {stay?.bed === undefined ? words.patients.noBed : words.patients.bed(stay.bed)}
          </span>
          <span>{stay?.patient.name ?? stay?.patient.identifier ?? audited.encounter}</span>
          {stay?.patient.name && <span className="soft">{stay.patient.identifier}</span>}
        </Link>
      </th>
      <td className={unwritten > 0 || atLeast ? "stake" : ""}>{shift && sayUnwritten(row, speech)}</td>
      <td className={unknown > 0 ? "stake" : ""}>{unknown > 0 ? duration(unknown * MINUTE) : "–"}</td>
      <td>
        <OpenOf row={row} />
      </td>
      <td>
        {shift && (
          <>
            {words.certainty[shift.balance.netTotalCertainty]} {volume(shift.balance.netTotal)}
          </>
        )}
      </td>
      <td>{shift && words.shift.states[shift.state]}</td>
      {measure && <td>{measureValue(audited.values[measure.key] ?? null, measure.unit, speech)}</td>}
    </tr>
  );
}

/** A device that counts at a rate nobody knows has something, and nobody can say how much. */
function sayUnwritten({ unwritten, atLeast }: RoundRow, { words, inTenths }: Speech): string {
  if (unwritten <= 0) return atLeast ? words.round.someVolume : "–";
  return atLeast ? `${words.certainty["at-least"]} ${inTenths(unwritten)}` : inTenths(unwritten);
}

/** What is open in a few words, the gravest first; the rest is a tap away. */
function OpenOf({ row: { open, shift } }: { readonly row: RoundRow }) {
  const { words } = useSpeech();
  if (shift === null) return null;
  if (open.length === 0) return <span className="soft">{words.open.none}</span>;
  return (
    <ul className="codes">
      {countedByCode(open).map(([code, times]) => (
        <li key={code} className={open.find((one) => one.code === code)?.severity}>
          {words.findings[code]}
          {times > 1 && <span className="soft"> × {times}</span>}
        </li>
      ))}
    </ul>
  );
}
