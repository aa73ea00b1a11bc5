/** The lines with what runs into them: per channel what it does now, and the bag it draws from. */

import type { ChannelTotals } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { ChannelActs } from "../record/channel-acts.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import type { Ask } from "./asked.js";
import { BagFigures } from "./bag.js";
import { doing } from "./doing.js";

interface LinesProps {
  readonly sheet: ShiftSheet;
  readonly ask: Ask;
}

export function Lines({ sheet, ask }: LinesProps) {
  const { words } = useSpeech();
  const { channels } = sheet.shift.totals;
  // What hangs nowhere and gives nothing is no line to look at.
  const shown = channels.filter(({ connected, flow }) => connected || flow !== null);
  const lines = [...new Set(shown.map(({ line }) => line))];
  return (
    <section aria-labelledby="lines">
      <h2 id="lines">{words.lines.heading}</h2>
      {shown.length === 0 && <p className="empty">{words.lines.none}</p>}
      <ul className="lines">
        {lines.map((line) => {
          const ours = shown.filter((channel) => channel.line === line);
          return (
            <li key={line ?? ""} className="line">
              <h3>{ours[0]?.lineLabel ?? words.lines.noLine}</h3>
              {ours.map((channel) => (
                <Channel key={channel.channel} channel={channel} sheet={sheet} ask={ask} />
              ))}
            </li>
          );
        })}
      </ul>
    </section>
  );
}

interface ChannelProps {
  readonly channel: ChannelTotals;
  readonly sheet: ShiftSheet;
  readonly ask: Ask;
}

function Channel({ channel, sheet, ask }: ChannelProps) {
  const speech = useSpeech();
  const { words } = speech;
  const { flow } = channel;
  const hanging = sheet.hangings.findLast(({ bag }) => bag === flow?.bag);
  const fluid = (hanging?.fluid as { name?: string } | undefined)?.name ?? words.lines.unidentified;
  return (
    <div className="channel">
      <p>
        <strong>{channel.channel}</strong> {together(doing(channel, fluid, speech))}
      </p>
      {flow !== null && <BagFigures flow={flow} hanging={hanging ?? null} sheet={sheet} ask={ask} />}
      <ChannelActs now={channel} />
    </div>
  );
}
