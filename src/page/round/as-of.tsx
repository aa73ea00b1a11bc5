/**
 * As of an earlier moment: a plain band over the view that says so, with the way back to now; and the control that
 * takes the view there, by the ward's clock, which asks which of two times is meant where the clock shows it twice.
 */

import { useState } from "react";
import { go } from "../ui/going.js";
import { useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";
import { instantsAt, wallAt } from "../words/zone.js";

/** Says as of when everything below is; nothing for now. */
export function AsOfBand({ asOf }: { readonly asOf: string | null }) {
  const { words, day } = useSpeech();
  if (asOf === null) return null;
  const when = Number.isNaN(Date.parse(asOf)) ? asOf : words.shift.on(clock(asOf), day(asOf));
  return (
    <div className="as-of-band" role="note">
      <p>
        <strong>{words.asOf.band(when)}</strong> {words.asOf.meaning}
      </p>
      <button type="button" onClick={() => go({ asOf: null })}>
        {words.asOf.back}
      </button>
    </div>
  );
}

interface MomentProps {
  readonly label: string;
  readonly zone: string;
  /** The instant that stands there at first. */
  readonly at: string;
  readonly button: string;
  readonly choose: (instant: string) => void;
}

/** A moment by the ward's clock. */
export function MomentChoice({ label, zone, at, button, choose }: MomentProps) {
  const { words } = useSpeech();
  const [wall, setWall] = useState(wallAt(zone, Date.parse(at)));
  const instants = instantsAt(zone, wall);
  return (
    <form className="controls" onSubmit={(event) => event.preventDefault()}>
      <label>
        {label} <input type="datetime-local" value={wall} onChange={(event) => setWall(event.target.value)} />
      </label>
      {instants.length > 1 && <p>{words.asOf.twice}</p>}
      {instants.length === 0 && <p role="alert">{words.asOf.noSuchTime}</p>}
      {instants.map((instant) => (
        <button key={instant} type="submit" onClick={() => choose(instant)}>
          {instants.length > 1 ? `${button} (${instant.slice(-6)})` : button}
        </button>
      ))}
    </form>
  );
}

/** Takes the view to an earlier moment; folded, since now is what is mostly asked. */
export function AsOfChoice({ zone, at }: { readonly zone: string; readonly at: string }) {
  const { words } = useSpeech();
  return (
    <details>
      <summary>{words.asOf.earlier}</summary>
      <MomentChoice
        label={words.asOf.moment}
        zone={zone}
        at={at}
        button={words.asOf.show}
        choose={(asOf) => go({ asOf })}
      />
    </details>
  );
}
