/** What changed between two moments of recording: the entries written in between, and the figures they moved. */

import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import type { ChangedFigure, Changes } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { categoryName } from "../picture/sentences.js";
import { MomentChoice } from "../round/as-of.js";
import { go } from "../ui/going.js";
import { Empty, Failed, Loading } from "../ui/states.js";
import { type Speech, useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";
import { aboutChanges } from "./asking.js";
import { EntryTable } from "./record.js";

/** How many moved figures stand there before the rest is asked for. */
const SHOWN = 20;

interface ChangesProps {
  readonly encounter: string;
  readonly sheet: ShiftSheet;
  readonly since: string | null;
  readonly asOf: string | null;
}

export function ChangesView({ encounter, sheet: { shift }, since, asOf }: ChangesProps) {
  const { words, day, clockSeenFrom } = useSpeech();
  const earlier = since ?? shift.start;
  const changes = useQuery(aboutChanges(encounter, earlier, asOf));
  const time = (instant: string) => words.shift.on(clock(instant), day(instant));
  return (
    <section aria-labelledby="changes">
      <h2 id="changes">{words.changes.heading}</h2>
      <MomentChoice
        key={`since ${earlier}`}
        label={words.changes.since}
        zone={shift.zone}
        at={earlier}
        button={words.changes.show}
        choose={(instant) => go({ since: instant })}
      />
      <MomentChoice
        key={`to ${asOf}`}
        label={words.changes.to}
        zone={shift.zone}
        at={asOf ?? shift.until}
        button={words.changes.show}
        choose={(instant) => go({ asOf: instant })}
      />
      {changes.error && (
        <Failed failure={changes.error} staleFrom={null} again={() => void changes.refetch()} />
      )}
      {changes.isPending && <Loading />}
      {changes.data && (
        <>
          <p>{words.changes.between(time(earlier), time(changes.data.until), changes.data.entries.length)}</p>
          <h3 className="gap">{words.changes.figures}</h3>
          <Moved changes={changes.data} />
          <h3 className="gap">{words.changes.entries}</h3>
          {changes.data.entries.length === 0 && <Empty>{words.changes.none}</Empty>}
          <EntryTable entries={changes.data.entries} time={(at) => clockSeenFrom(at, shift.until)} />
        </>
      )}
    </section>
  );
}

function Moved({ changes: { figures, until } }: { readonly changes: Changes }) {
  const speech = useSpeech();
  const { words, volume, figure, clockSeenFrom } = speech;
  const [all, setAll] = useState(false);
  if (figures.length === 0) return <Empty>{words.changes.noFigures}</Empty>;
  return (
    <>
      <table className="old-new">
        <caption className="unseen">{words.changes.figures}</caption>
        <thead>
          <tr>
            <th scope="col">{words.changes.figure}</th>
            <th scope="col">{words.history.was}</th>
            <th scope="col">{words.history.is}</th>
            <th scope="col">{words.changes.cause}</th>
          </tr>
        </thead>
        <tbody>
          {(all ? figures : figures.slice(0, SHOWN)).map((one) => {
            const say = one.row.of === "unmeasured" ? figure : volume;
            const when = `${clockSeenFrom(one.start, until)}–${clock(one.end)}`;
            return (
              <tr key={`${one.row.of} ${one.row.key} ${one.start} ${one.end}`}>
                <th scope="row">
                  {rowName(one, speech)} <span className="soft">{when}</span>
                </th>
                <td>
                  <del>{say(one.before)}</del>
                </td>
                <td>
                  <ins>{say(one.after)}</ins>
                </td>
                <td>
                  {one.causes.length > 0 && (
                    <button type="button" onClick={() => go({ entry: one.causes.at(-1)! })}>
                      {words.changes.causes(one.causes.length)}
                      <span className="unseen">
                        {" "}
                        {rowName(one, speech)}, {when}
                      </span>
                    </button>
                  )}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      {!all && figures.length > SHOWN && (
        <button type="button" onClick={() => setAll(true)}>
          {words.open.more(figures.length - SHOWN)}
        </button>
      )}
    </>
  );
}

/** "Left forearm", "Urine", "Net": lines are named by the service, what has a word of its own by that. */
function rowName({ row: { of, key, label } }: ChangedFigure, speech: Speech): string {
  const { words } = speech;
  if (of === "net") return words.balance.net;
  if (of === "volume") return key === null ? words.lines.noLine : label;
  const known = key !== null && key in words.categories ? (key as never) : null;
  const name = known === null ? label : categoryName(known, speech);
  return of === "unmeasured" ? words.changes.unmeasured(name) : name;
}
