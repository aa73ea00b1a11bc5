/**
 * What must be read off before handing over: the totals with volume that nobody has written down, largest first,
 * with what the device should show now. What is written down already is folded away.
 */

import type { ChannelTotals, RunningTotal, ShiftFigures } from "../api/shapes.js";
import { countersOpen } from "../record/forms/reading.js";
import { useRecorder } from "../record/recorder.js";
import { type Speech, useSpeech } from "../words/language.js";
import { clock, moment } from "../words/wall.js";
import type { Ask } from "./asked.js";

interface Counter {
  readonly channel: ChannelTotals;
  readonly total: RunningTotal;
}

interface ToWriteProps {
  readonly shift: ShiftFigures;
  readonly ask: Ask;
}

export function ToWrite({ shift, ask }: ToWriteProps) {
  const { words } = useSpeech();
  const { at, channels } = shift.totals;
  const running = moment(at) < moment(shift.end);
  const counters = channels.flatMap((channel) => channel.totals.map((total) => ({ channel, total })));
  const open = countersOpen(channels);
  const done = counters.filter(
    (counter) => !open.some(({ total }) => total === counter.total) && isUsed(counter),
  );
  const record = useRecorder();
  return (
    <section aria-labelledby="to-write">
      <h2 id="to-write">{words.toWrite.heading}</h2>
      <p className="soft">{running ? words.toWrite.now(clock(at)) : words.toWrite.atEnd(clock(at))}</p>
      {open.length > 1 && record !== null && (
        <button type="button" className="act spaced" onClick={() => record({ act: "readings" })}>
          {words.record.writeDownAll}
        </button>
      )}
      {open.length === 0 && <p className="empty">{words.toWrite.none}</p>}
      <ul className="counters">
        {open.map((counter) => (
          <CounterItem key={keyOf(counter)} counter={counter} at={at} ask={ask} first={open.length === 1} />
        ))}
      </ul>
      {done.length > 0 && (
        <details>
          <summary>{words.toWrite.done(done.length)}</summary>
          <ul className="counters">
            {done.map((counter) => (
              <CounterItem key={keyOf(counter)} counter={counter} at={at} ask={ask} first={false} />
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

/** A total that has counted nothing yet needs no room. */
function isUsed({ total }: Counter): boolean {
  return total.expected > 0 || total.lastReading !== null;
}

function keyOf({ channel, total }: Counter): string {
  return `${channel.channel} ${total.total}`;
}

interface CounterItemProps {
  readonly counter: Counter;
  readonly at: string;
  readonly ask: Ask;
  /** Whether writing it down is what is to be done first. */
  readonly first: boolean;
}

function CounterItem({ counter: { channel, total }, at, ask, first }: CounterItemProps) {
  const speech = useSpeech();
  const { words, tenths, inTenths } = speech;
  const open = useRecorder();
  const name = `${channel.channel}, ${words.toWrite.totals[total.total]}`;
  const shown = `${words.toWrite.shouldShow} ${inTenths(total.expected)}`;
  return (
    <li className="counter">
      <h3>
        {channel.channel} <span className="soft">{channel.lineLabel ?? words.lines.noLine}</span>
      </h3>
      <div className="amount">
        <span className="soft">
          {words.toWrite.totals[total.total]}, {words.toWrite.shouldShow}
        </span>
        <button
          type="button"
          className="figure large"
          aria-label={words.table.why(name, clock(at), shown)}
          onClick={() => ask({ of: "expected", channel, total })}
        >
          <strong>{tenths(total.expected)}</strong> mL
        </button>
      </div>
      <div>
        <Gauge total={total} />
        <p>
          {total.atRisk > 0 && <strong>{unwritten(total, at, speech)}. </strong>}
          <span className="soft">{lastWritten(total, speech)}</span>
        </p>
        {total.waiting && <p>{words.toWrite.waiting(inTenths(total.waiting.value))}</p>}
        {open !== null && (
          <button
            type="button"
            className={first ? "act spaced" : "spaced"}
            aria-label={words.record.of(words.record.writeDown, name)}
            onClick={() => open({ act: "reading", channel: channel.channel, total: total.total })}
          >
            {words.record.writeDown}
          </button>
        )}
      </div>
    </li>
  );
}

function unwritten({ atRisk, atLeast, since }: RunningTotal, at: string, speech: Speech): string {
  const { words, inTenths, clockSeenFrom } = speech;
  const say = atLeast ? words.toWrite.unwrittenAtLeast : words.toWrite.unwritten;
  return say(inTenths(atRisk), clockSeenFrom(since, at));
}

function lastWritten({ lastReading }: RunningTotal, { words, inTenths }: Speech): string {
  return lastReading === null ? words.toWrite.never : words.toWrite.last(inTenths(lastReading));
}

/** The total as a bar: filled as far as it is written down, an outline for what only the device knows. */
function Gauge({ total: { expected, atRisk } }: { readonly total: RunningTotal }) {
  if (expected <= 0) return null;
  const written = Math.min(100, Math.max(0, (100 * (expected - atRisk)) / expected));
  return (
    <svg className="gauge" aria-hidden="true" height={14} width="100%">
      <rect className="gauge-whole" x={0.75} y={0.75} width="99%" height={12.5} />
      <rect className="gauge-written" x={0.75} y={0.75} width={`${written * 0.99}%`} height={12.5} />
    </svg>
  );
}
