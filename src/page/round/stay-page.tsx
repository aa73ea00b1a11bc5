/** The views of one stay for whoever reads back: its findings, its record, what changed, a chart beside it. */

import { useQuery } from "@tanstack/react-query";
import { type Choice, NO_STAY, type ViewName } from "../address.js";
import type { Stay } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { ChartView } from "../chart/view.js";
import { ChangesView } from "../history/changes.js";
import { EntrySheet } from "../history/entry-sheet.js";
import { RecordView } from "../history/record.js";
import { PatientHead, ShiftControls } from "../shift/head.js";
import { StayFrame } from "../shift/stay-frame.js";
import { aboutWho } from "../sign-in/who.js";
import { go } from "../ui/going.js";
import { Empty } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { AsOfChoice } from "./as-of.js";
import { FindingsView } from "./findings.js";
import { Places } from "./places.js";

interface StayPageProps {
  readonly encounter: string;
  readonly view: ViewName;
  readonly choice: Choice;
}

export default function StayPage({ encounter, view, choice: { shift, asOf, since, entry } }: StayPageProps) {
  const { words } = useSpeech();
  const role = useQuery({ ...aboutWho, enabled: false }).data?.me?.role;
  const toRound = role === "charge-nurse" && (
    <button type="button" className="plain" onClick={() => go({ ...NO_STAY, shift, asOf, view: "round" })}>
      {words.round.back}
    </button>
  );
  return (
    <StayFrame encounter={encounter} shift={shift} asOf={asOf} ways={toRound}>
      {({ data: { stay, sheet } }) => (
        <>
          <PatientHead stay={stay} />
          <Places stay={stay} />
          {sheet === null ? (
            <Empty>{words.shift.none}</Empty>
          ) : (
            <>
              {view !== "findings" && <ShiftControls shifts={stay.shifts} shown={sheet.shift} />}
              <Viewed view={view} stay={stay} sheet={sheet} asOf={asOf} since={since} />
              <AsOfChoice zone={sheet.shift.zone} at={sheet.shift.until} />
            </>
          )}
          {entry !== null && <EntrySheet encounter={encounter} entry={entry} asOf={asOf} />}
        </>
      )}
    </StayFrame>
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
