/**
 * Recording on a shift's page: what opens a sheet from anywhere on it, the sheet that is open, and what was just
 * recorded, with the way to undo it. Whose role may not record finds nothing to open.
 */

import { useQuery } from "@tanstack/react-query";
import {
  createContext,
  lazy,
  type ReactNode,
  Suspense,
  useContext,
  useEffect,
  useMemo,
  useState,
} from "react";
import type { Entry, Recorded, Settings, Stay } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { aboutWho } from "../sign-in/who.js";
import { go } from "../ui/going.js";
import { useSpeech } from "../words/language.js";
import { MoreSheet } from "./more-sheet.js";
import { Notice } from "./notice.js";
import { useNow } from "./now.js";
import type { Open } from "./opened.js";

// The first figures need no sheets. They are fetched once those stand, so that they are there without a network too.
const sheets = {
  record: () => import("./record-sheet.js"),
  sign: () => import("../sign/sign-sheet.js"),
};
const RecordSheet = lazy(() => sheets.record().then((part) => ({ default: part.RecordSheet })));
const SignSheet = lazy(() => sheets.sign().then((part) => ({ default: part.SignSheet })));

type Opening = (open: Open) => void;

const Recorder = createContext<Opening | null>(null);

/** Opens a sheet; null for who may not record. */
export function useRecorder(): Opening | null {
  return useContext(Recorder);
}

/** What was recorded last, and what it undid. */
export interface Done {
  readonly recorded: Recorded;
  readonly undid: readonly Entry[];
}

interface RecordingProps {
  readonly stay: Stay;
  readonly sheet: ShiftSheet;
  readonly settings: Settings | null;
  /** When the sheet was answered, by the clock of this machine: how long ago its present was. */
  readonly answeredAt: number;
  /** What is shown stands as it is known now. In a view of an earlier moment nothing is recorded. */
  readonly present: boolean;
  readonly children: ReactNode;
}

export function Recording({ stay, sheet, settings, answeredAt, present, children }: RecordingProps) {
  const me = useQuery({ ...aboutWho, enabled: false }).data?.me;
  const [open, setOpen] = useState<Open | null>(null);
  const [done, setDone] = useState<Done | null>(null);
  useEffect(() => {
    // Where that fails it is tried again when a sheet is opened.
    for (const part of Object.values(sheets)) part().catch(() => {});
  }, []);
  const may = present && (me?.role === "nurse" || me?.role === "charge-nurse");
  const opening = useMemo<Opening | null>(
    () =>
      may
        ? (next) => {
            if (next.act === "sign") go({ shift: next.shift });
            setOpen(next);
          }
        : null,
    [may],
  );
  return (
    <Recorder.Provider value={opening}>
      {done !== null && opening !== null && <Notice done={done} dismiss={() => setDone(null)} />}
      {children}
      <Suspense fallback={null}>
        {open !== null && opening !== null && (
          <OpenSheet
            key={open.act}
            open={open}
            stay={stay}
            sheet={sheet}
            settings={settings}
            answeredAt={answeredAt}
            close={() => setOpen(null)}
            choose={setOpen}
            done={(recorded) => {
              setOpen(null);
              setDone({ recorded, undid: open.act === "void" ? open.entries : [] });
            }}
          />
        )}
      </Suspense>
    </Recorder.Provider>
  );
}

interface OpenSheetProps extends Omit<RecordingProps, "children" | "present"> {
  readonly open: Open;
  readonly close: () => void;
  readonly choose: (open: Open) => void;
  readonly done: (recorded: Recorded) => void;
}

function OpenSheet({ open, stay, sheet, settings, answeredAt, close, choose, done }: OpenSheetProps) {
  const speech = useSpeech();
  const clock = useNow(stay, sheet, answeredAt);
  const over = Date.parse(sheet.shift.until) >= Date.parse(sheet.shift.end);
  if (open.act === "more") {
    return <MoreSheet channel={open.channel} sheet={sheet} close={close} choose={choose} />;
  }
  if (open.act === "sign") {
    // Another shift than the one that is shown has been asked for already.
    return open.shift === sheet.shift.shift ? <SignSheet stay={stay} sheet={sheet} close={close} /> : null;
  }
  return (
    <RecordSheet
      opened={open}
      encounter={stay.id}
      asking={{ sheet, speech, settings }}
      clock={clock}
      over={over}
      close={close}
      done={done}
    />
  );
}
