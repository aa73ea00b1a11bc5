/**
 * One patient's shift: what must be written down, what is open, what runs, the balance, and the hours as a picture
 * and as tables, with the recording of each beside it.
 */

import { useState } from "react";
import { RecordBar } from "../record/bar.js";
import { EntriesOfShift } from "../record/entries.js";
import { Recording } from "../record/recorder.js";
import { AsOfChoice } from "../round/as-of.js";
import { Places } from "../round/places.js";
import { Empty } from "../ui/states.js";
import { WhySheet } from "../why/why-sheet.js";
import { useSpeech } from "../words/language.js";
import type { Asked } from "./asked.js";
import { BalanceSection } from "./balance.js";
import { PatientHead, ShiftControls } from "./head.js";
import { Hours } from "./hours.js";
import { Lines } from "./lines.js";
import { Open } from "./open.js";
import { type Shown, StayFrame } from "./stay-frame.js";
import { ToWrite } from "./to-write.js";

interface ShiftPageProps {
  readonly encounter: string;
  /** "2026-03-04/day"; null for the latest shift. */
  readonly wanted: string | null;
  /** The instant as of which it is shown; null for now. */
  readonly asOf: string | null;
}

export function ShiftPage({ encounter, wanted, asOf }: ShiftPageProps) {
  return (
    <StayFrame encounter={encounter} shift={wanted} asOf={asOf}>
      {(shown) => <ShiftOf {...shown} present={asOf === null} />}
    </StayFrame>
  );
}

interface ShiftOfProps extends Shown {
  /** Whether it stands as it is known now. */
  readonly present: boolean;
}

function ShiftOf({ data: { stay, sheet }, settings, answeredAt, present }: ShiftOfProps) {
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
