/**
 * One patient's shift, to be read: what must be written down, what is open, what runs, the balance, and the hours
 * as a picture and as tables. All figures of it come from one round of questions; a failure leaves them standing.
 */

import { useQuery, useQueryClient } from "@tanstack/react-query";
import { useState } from "react";
import { NO_STAY } from "../address.js";
import { aboutShift, aboutUnits, lastSheetOf } from "../api/asking.js";
import { Refused } from "../api/problems.js";
import type { Settings } from "../api/shapes.js";
import type { StaySheet } from "../api/sheet.js";
import { RecordBar } from "../record/bar.js";
import { EntriesOfShift } from "../record/entries.js";
import { Recording } from "../record/recorder.js";
import { AsOfBand, AsOfChoice } from "../round/as-of.js";
import { Places } from "../round/places.js";
import { signOut } from "../sign-in/who.js";
import { Top } from "../ui/frame.js";
import { go } from "../ui/going.js";
import { useStream } from "../ui/hearing.js";
import { Empty, Failed, Loading } from "../ui/states.js";
import { WhySheet } from "../why/why-sheet.js";
import { useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";
import type { Asked } from "./asked.js";
import { BalanceSection } from "./balance.js";
import { PatientHead, ShiftControls } from "./head.js";
import { Hours } from "./hours.js";
import { Lines } from "./lines.js";
import { Open } from "./open.js";
import { ToWrite } from "./to-write.js";

interface ShiftPageProps {
  readonly encounter: string;
  /** "2026-03-04/day"; null for the latest shift. */
  readonly wanted: string | null;
  /** The instant as of which it is shown; null for now. */
  readonly asOf: string | null;
}

export function ShiftPage({ encounter, wanted, asOf }: ShiftPageProps) {
  const { words } = useSpeech();
  const queries = useQueryClient();
  const shown = useQuery(aboutShift(encounter, wanted, asOf));
  const units = useQuery(aboutUnits);
  // What is not there, or not theirs any more, does not stay on the screen.
  const gone = shown.error instanceof Refused && shown.error.status < 500;
  const data = gone ? undefined : (shown.data ?? lastSheetOf(queries, encounter, asOf));
  useStream(data?.stay.unit ?? null);
  const unit = units.data?.find(({ id }) => id === data?.stay.unit);
  const until = data?.sheet?.shift.until ?? null;
  return (
    <>
      <Top unit={unit?.name ?? null} told={until === null ? null : words.shift.computedUpTo(clock(until))}>
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
          <Shown
            data={data}
            settings={unit?.settings ?? null}
            answeredAt={shown.dataUpdatedAt || Date.now()}
            present={asOf === null}
          />
        )}
      </main>
    </>
  );
}

interface ShownProps {
  readonly data: StaySheet;
  /** The unit's; null until they are known. */
  readonly settings: Settings | null;
  readonly answeredAt: number;
  readonly present: boolean;
}

function Shown({ data: { stay, sheet }, settings, answeredAt, present }: ShownProps) {
  const { words } = useSpeech();
  const [asked, setAsked] = useState<Asked | null>(null);
  if (sheet === null) {
    return (
      <>
        <PatientHead stay={stay} />
        <Empty>{words.shift.none}</Empty>
      </>
    );
  }
  return (
    <Recording stay={stay} sheet={sheet} settings={settings} answeredAt={answeredAt} present={present}>
      <PatientHead stay={stay} />
      <Places stay={stay} />
      <ShiftControls shifts={stay.shifts} shown={sheet.shift} />
      <div className="pair">
        <ToWrite shift={sheet.shift} ask={setAsked} />
        <Open shift={sheet.shift} />
      </div>
      <div className="pair">
        <Lines sheet={sheet} ask={setAsked} />
        <BalanceSection shift={sheet.shift} ask={setAsked} />
      </div>
      <AsOfChoice zone={sheet.shift.zone} at={sheet.shift.until} />
      <Hours sheet={sheet} lateAfter={settings?.lateAfter ?? "PT2H"} ask={setAsked} />
      <EntriesOfShift sheet={sheet} />
      <RecordBar shift={sheet.shift.shift} />
      {asked && <WhySheet asked={asked} stay={stay} sheet={sheet} close={() => setAsked(null)} />}
    </Recording>
  );
}
