/** Why a sum is what it is: the rows it is made of; a net, of its sides; a cumulative net, of what came before. */

import type { ShiftSheet } from "../api/sheet.js";
import type { Asked } from "../shift/asked.js";
import { useSpeech } from "../words/language.js";

type Of<K extends Asked["of"]> = Extract<Asked, { of: K }>;

export function SumWhy({ asked: { summands, value } }: { readonly asked: Of<"sum"> }) {
  const { words, volume } = useSpeech();
  return (
    <Addition caption={words.why.rows} rows={summands.map((row) => [row.name, volume(row.value)])}>
      {volume(value)}
    </Addition>
  );
}

export function NetWhy({ asked: { intake, output, value } }: { readonly asked: Of<"net"> }) {
  const { words, volume } = useSpeech();
  return <p>{words.why.netIs(volume(intake), volume(output), volume(value))}</p>;
}

interface CumulativeWhyProps {
  readonly asked: Of<"cumulative">;
  readonly sheet: ShiftSheet;
}

export function CumulativeWhy({ asked: { before, beside, value }, sheet }: CumulativeWhyProps) {
  const { words, volume } = useSpeech();
  const since = Math.round((value - before - beside) * 1000) / 1000;
  return (
    <>
      <p>{words.why.cumulativeIs(volume(before), volume(since), volume(value))}</p>
      {beside !== 0 && (
        <p>
          {words.why.beside}: {volume(beside)}
          {sheet.shift.balance.beside.map(({ place }) => (place === null ? "" : `, ${place}`)).join("")}
        </p>
      )}
    </>
  );
}

interface AdditionProps {
  readonly caption: string;
  readonly rows: readonly (readonly [name: string, volume: string])[];
  /** The sum. */
  readonly children: string;
}

/** An addition as it is done on paper. */
export function Addition({ caption, rows, children }: AdditionProps) {
  return (
    <table className="addition">
      <caption className="unseen">{caption}</caption>
      <tbody>
        {rows.map(([name, volume]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td>{volume}</td>
          </tr>
        ))}
        <tr className="sum">
          <td />
          <td>{children}</td>
        </tr>
      </tbody>
    </table>
  );
}
