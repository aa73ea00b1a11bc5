/** Everything that may happen at a channel as it is, as verbs, the likeliest first. */

import type { ShiftSheet } from "../api/sheet.js";
import { Sheet } from "../ui/sheet.js";
import { useSpeech } from "../words/language.js";
import { actsOf } from "./acts.js";
import type { Opened } from "./opened.js";

interface MoreSheetProps {
  readonly channel: string;
  readonly sheet: ShiftSheet;
  readonly close: () => void;
  readonly choose: (opened: Opened) => void;
}

export function MoreSheet({ channel, sheet, close, choose }: MoreSheetProps) {
  const { words } = useSpeech();
  const now = sheet.shift.totals.channels.find((one) => one.channel === channel);
  return (
    <Sheet title={words.record.titles.more(channel)} close={close} closeName={words.record.cancel}>
      <div className="verbs">
        {now !== undefined &&
          actsOf(now).map((act) => (
            <button key={act} type="button" onClick={() => choose({ act, channel })}>
              {words.record.acts[act]}
            </button>
          ))}
      </div>
    </Sheet>
  );
}
