/** What is open: findings in plain words, questions first, then by volume, each with the act that settles it. */

import type { Finding, ShiftFigures } from "../api/shapes.js";
import { useRecorder } from "../record/recorder.js";
import { settling } from "../record/settling.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";

/** How many stand there before the rest is folded. */
const SHOWN = 3;

const SEVERITIES: readonly Finding["severity"][] = ["question", "attention", "note"];

export function Open({ shift }: { readonly shift: ShiftFigures }) {
  const { findings } = shift;
  const { words } = useSpeech();
  // The answer has them by volume within a severity already.
  const open = SEVERITIES.flatMap((severity) =>
    findings.filter((finding) => finding.severity === severity && finding.state === "open"),
  );
  const looked = findings.filter(({ state }) => state === "acknowledged");
  const rest = [...open.slice(SHOWN), ...looked];
  return (
    <section aria-labelledby="open">
      <h2 id="open">{words.open.heading}</h2>
      {open.length === 0 && <p className="empty">{words.open.none}</p>}
      <ul className="findings">
        {open.slice(0, SHOWN).map((finding) => (
          <FindingItem key={finding.id} finding={finding} shift={shift} />
        ))}
      </ul>
      {rest.length > 0 && (
        <details>
          <summary>{words.open.more(rest.length)}</summary>
          <ul className="findings">
            {rest.map((finding) => (
              <FindingItem key={finding.id} finding={finding} shift={shift} />
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

/** The sentences are the service's, which speaks English; the heading is in the language of the page. */
function FindingItem({ finding, shift }: { readonly finding: Finding; readonly shift: ShiftFigures }) {
  const { words, clockSeenFrom } = useSpeech();
  // Times of another day than that as of which they are carry theirs.
  const at = shift.until;
  const { code, severity, sentence, settledBy, acknowledged, concerns } = finding;
  const since = concerns.start === undefined ? undefined : clockSeenFrom(concerns.start, at);
  const where = [words.open.severities[severity], concerns.channel, since];
  const [first, ...others] = settledBy;
  return (
    <li className={`finding ${severity}`}>
      <h3>
        {words.findings[code]} <span className="soft">{where.filter(Boolean).join(", ")}</span>
      </h3>
      <p lang="en">{together(sentence)}</p>
      {first && (
        <p>
          <span className="soft">{words.open.settledBy}: </span>
          <span lang="en">{together(first.text)}</span>
        </p>
      )}
      <Settle finding={finding} way={0} shift={shift} />
      {others.length > 0 && (
        <details>
          <summary>{words.open.other}</summary>
          <ul className="sentences" lang="en">
            {others.map(({ text }, index) => (
              <li key={text}>
                {together(text)} <Settle finding={finding} way={index + 1} shift={shift} />
              </li>
            ))}
          </ul>
        </details>
      )}
      {acknowledged && <p className="soft">{words.open.acknowledged(acknowledged.by.name)}</p>}
    </li>
  );
}

interface SettleProps {
  readonly finding: Finding;
  /** Which of the ways to settle it. */
  readonly way: number;
  readonly shift: ShiftFigures;
}

/** The button of a way to settle a finding, where that is one act of this page. */
function Settle({ finding, way, shift }: SettleProps) {
  const { words } = useSpeech();
  const open = useRecorder();
  const next = settling(finding, way, shift.totals.channels);
  if (open === null || next === null) return null;
  return (
    <button
      type="button"
      className="spaced"
      aria-label={words.record.settleNow(words.findings[finding.code])}
      onClick={() => open(next)}
    >
      {words.record.settle}
    </button>
  );
}
