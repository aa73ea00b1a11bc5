/** What is done most often to a channel as it is, and the way to everything else. */

import type { ChannelTotals } from "../api/shapes.js";
import { useSpeech } from "../words/language.js";
import { actsOf } from "./acts.js";
import { useRecorder } from "./recorder.js";

/** So many verbs stand beside a channel. */
const SHOWN = 2;

export function ChannelActs({ now }: { readonly now: ChannelTotals }) {
  const { words } = useSpeech();
  const open = useRecorder();
  const { channel } = now;
  const acts = actsOf(now);
  if (open === null || acts.length === 0) return null;
  return (
    <div className="channel-acts">
      {acts.slice(0, SHOWN).map((act) => (
        <button
          key={act}
          type="button"
          aria-label={words.record.of(words.record.acts[act], channel)}
          onClick={() => open({ act, channel })}
        >
          {words.record.acts[act]}
        </button>
      ))}
      <button
        type="button"
        aria-label={words.record.moreOf(channel)}
        onClick={() => open({ act: "more", channel })}
      >
        {words.record.more}…
      </button>
    </div>
  );
}
