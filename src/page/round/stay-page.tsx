/** The views of one stay for whoever reads back: its findings, its record, what changed, a chart beside it. */

import { useQuery, useQueryClient } from "@tanstack/react-query";
import { type Choice, NO_STAY, type ViewName } from "../address.js";
import { aboutShift, aboutUnits, lastSheetOf } from "../api/asking.js";
import { Refused } from "../api/problems.js";
import type { Stay } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { ChartView } from "../chart/view.js";
import { ChangesView } from "../history/changes.js";
import { EntrySheet } from "../history/entry-sheet.js";
import { RecordView } from "../history/record.js";
import { PatientHead, ShiftControls } from "../shift/head.js";
import { aboutWho, signOut } from "../sign-in/who.js";
import { Top } from "../ui/frame.js";
import { go } from "../ui/going.js";
import { useStream } from "../ui/hearing.js";
import { Empty, Failed, Loading } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";
import { AsOfBand, AsOfChoice } from "./as-of.js";
import { FindingsView } from "./findings.js";
import { Places } from "./places.js";

interface StayPageProps {
  readonly encounter: string;
  readonly view: ViewName;
  readonly choice: Choice;
}

export default function StayPage({ encounter, view, choice: { shift, asOf, since, entry } }: StayPageProps) {
  const { words } = useSpeech();
  const queries = useQueryClient();
  const shown = useQuery(aboutShift(encounter, shift, asOf));
  const units = useQuery(aboutUnits);
  const role = useQuery({ ...aboutWho, enabled: false }).data?.me?.role;
  const gone = shown.error instanceof Refused && shown.error.status < 500;
  const data = gone ? undefined : (shown.data ?? lastSheetOf(queries, encounter, asOf));
  useStream(data?.stay.unit ?? null);
  const until = data?.sheet?.shift.until ?? null;
  return (
    <>
      <Top
        unit={units.data?.find(({ id }) => id === data?.stay.unit)?.name ?? null}
        told={until === null ? null : words.shift.computedUpTo(clock(until))}
      >
        {role === "charge-nurse" && (
          <button
            type="button"
            className="plain"
            onClick={() => go({ ...NO_STAY, shift, asOf, view: "round" })}
          >
            {words.round.back}
          </button>
        )}
        <button type="button" className="plain" onClick={() => go(NO_STAY)}>
          {words.patients.back}
        </button>
        <button type="button" className="plain" onClick={() => void signOut(queries)}>
          {words.signIn.out}
        </button>
      </Top>
      <main aria-busy={shown.isPlaceholderData}>
        <AsOfBand asOf={asOf} />
        {data === undefined && <h1 className="unseen">{words.title}</h1>}
        {shown.error && (
          <Failed
            failure={shown.error}
            staleFrom={data && until !== null ? clock(until) : null}
            again={() => void shown.refetch()}
          />
        )}
        {shown.isPending && data === undefined && <Loading />}
        {data && (
          <>
            <PatientHead stay={data.stay} />
            <Places stay={data.stay} />
          </>
        )}
        {data?.sheet === null && <Empty>{words.shift.none}</Empty>}
        {data?.sheet && (
          <>
            {view !== "findings" && <ShiftControls shifts={data.stay.shifts} shown={data.sheet.shift} />}
            <Viewed view={view} stay={data.stay} sheet={data.sheet} asOf={asOf} since={since} />
            <AsOfChoice zone={data.sheet.shift.zone} at={data.sheet.shift.until} />
          </>
        )}
        {data && entry !== null && <EntrySheet encounter={encounter} entry={entry} asOf={asOf} />}
      </main>
    </>
  );
}

interface ViewedProps {
  readonly view: ViewName;
  readonly stay: Stay;
  readonly sheet: ShiftSheet;
  readonly asOf: string | null;
  readonly since: string | null;
}

function Viewed({ view, stay, sheet, asOf, since }: ViewedProps) {
  switch (view) {
    case "history":
      return <RecordView encounter={stay.id} sheet={sheet} asOf={asOf} />;
    case "changes":
      return <ChangesView encounter={stay.id} sheet={sheet} since={since} asOf={asOf} />;
    case "chart":
      return <ChartView key={sheet.shift.shift} encounter={stay.id} sheet={sheet} asOf={asOf} />;
    default:
      return <FindingsView encounter={stay.id} asOf={asOf} />;
  }
}
