/**
 * When it happened: now without a touch, some minutes ago with one, or a clock time of a day. In the hour that the
 * clock shows twice each time says its offset, and both are offered.
 */

import { useId } from "react";
import { AGO, ago, type Clock, chosenTime, type TimeChoice } from "../record/time.js";
import { useSpeech } from "../words/language.js";
import { typingTime } from "../words/typed.js";
import { clock as clockOf, offsetOf } from "../words/wall.js";
import { datesBetween, isShownTwice } from "../words/zone.js";
import { Choice } from "./choice.js";
import { DECIMAL, RUB_OUT, usePadField } from "./pad.js";

interface TimeChooserProps {
  readonly clock: Clock;
  readonly time: TimeChoice;
  readonly choose: (time: TimeChoice) => void;
  /** Whether "now" is the end of a shift that is over. */
  readonly over: boolean;
}

const ANOTHER = "another";

export function TimeChooser({ clock, time, choose, over }: TimeChooserProps) {
  const { words } = useSpeech();
  const { zone, now } = clock;
  const before = over ? words.record.minutesBefore : words.record.minutesAgo;
  const options = AGO.map((minutes) => ({
    value: String(minutes),
    label: minutes > 0 ? before(String(minutes)) : over ? words.record.atEnd : words.record.now,
    hint: clockIn(zone, ago(minutes, clock)),
  }));
  const exact = "ago" in time ? null : time;
  return (
    <div className="time">
      <Choice
        label={words.record.when}
        className="times"
        options={[...options, { value: ANOTHER, label: words.record.anotherTime }]}
        value={"ago" in time ? String(time.ago) : ANOTHER}
        choose={(value) =>
          choose(
            value === ANOTHER
              ? { date: now.slice(0, 10), typed: "", which: null }
              : { ago: Number(value), held: null },
          )
        }
      />
      {exact && <Exact clock={clock} time={exact} choose={choose} />}
    </div>
  );
}

interface ExactProps {
  readonly clock: Clock;
  readonly time: Exclude<TimeChoice, { readonly ago: number }>;
  readonly choose: (time: TimeChoice) => void;
}

function Exact({ clock, time, choose }: ExactProps) {
  const { words, day } = useSpeech();
  const selectId = useId();
  const type = (after: string) => choose({ ...time, typed: typingTime(time.typed, after), which: null });
  const { id, active, activate } = usePadField((key) => {
    if (key === DECIMAL) return;
    type(key === RUB_OUT ? time.typed.slice(0, -1) : time.typed + key);
  });
  const chosen = chosenTime(time, clock);
  const both = chosen.at === null ? chosen.both : twoOf(clock, time);
  const today = clock.latest.slice(0, 10);
  return (
    <>
      <div className="exact">
        <div className={active ? "number active" : "number"}>
          <label htmlFor={id}>{words.record.clockTime}</label>
          <input
            id={id}
            type="text"
            inputMode="none"
            autoComplete="off"
            // biome-ignore lint/a11y/noAutofocus: whoever asks for another time is about to type it
            autoFocus={time.typed === ""}
            size={5}
            value={time.typed}
            aria-describedby={`${id}-said`}
            onFocus={activate}
            onChange={(event) => type(event.target.value)}
          />
          <p className="soft">{words.record.clockHint}</p>
        </div>
        <div>
          <label htmlFor={selectId}>{words.record.day}</label>
          <select
            id={selectId}
            value={time.date}
            onChange={(event) => choose({ ...time, date: event.target.value, which: null })}
          >
            {datesBetween(clock.zone, clock.earliest, clock.latest).map((date) => (
              <option key={date} value={date}>
                {date === today ? `${day(date)}, ${words.record.today}` : day(date)}
              </option>
            ))}
          </select>
        </div>
      </div>
      {both.length > 1 && (
        <Choice
          label={words.record.which}
          options={both.map((instant, index) => ({
            value: String(index),
            label: `${clockOf(instant)} (${offsetOf(instant)})`,
            hint: index === 0 ? words.record.first : words.record.second,
          }))}
          value={time.which === null ? "" : String(time.which)}
          choose={(value) => choose({ ...time, which: Number(value) })}
        />
      )}
      <p id={`${id}-said`} className="said" aria-live="polite">
        {chosen.lacks === "to-come" && words.record.toCome}
        {chosen.lacks === "no-such" && words.record.noSuch}
      </p>
    </>
  );
}

/** Both instants of a time that is shown twice, once one of them is chosen. */
function twoOf(clock: Clock, time: ExactProps["time"]): string[] {
  const asked = chosenTime({ ...time, which: null }, clock);
  return asked.at === null ? asked.both : [];
}

/** "18:46", with its offset where the clock shows it twice. */
function clockIn(zone: string, instant: string): string {
  return isShownTwice(zone, instant) ? `${clockOf(instant)} (${offsetOf(instant)})` : clockOf(instant);
}
