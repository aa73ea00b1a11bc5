/** What is open: findings in plain words, questions first, then by volume, each with the act that settles it. */

import type { Finding } from "../api/shapes.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";

/** How many stand there before the rest is folded. */
const SHOWN = 3;

const SEVERITIES: readonly Finding["severity"][] = ["question", "attention", "note"];

interface OpenProps {
  readonly findings: readonly Finding[];
  /** The instant as of which they are: times of another day carry theirs. */
  readonly at: string;
}

export function Open({ findings, at }: OpenProps) {
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
          <FindingItem key={finding.id} finding={finding} at={at} />
        ))}
      </ul>
      {rest.length > 0 && (
        <details>
          <summary>{words.open.more(rest.length)}</summary>
          <ul className="findings">
            {rest.map((finding) => (
              <FindingItem key={finding.id} finding={finding} at={at} />
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

/** The sentences are the service's, which speaks English; the heading is in the language of the page. */
function FindingItem({ finding, at }: { readonly finding: Finding; readonly at: string }) {
  const { words, clockSeenFrom } = useSpeech();
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
      {others.length > 0 && (
        <details>
          <summary>{words.open.other}</summary>
          <ul className="sentences" lang="en">
            {others.map(({ text }) => (
              <li key={text}>{together(text)}</li>
            ))}
          </ul>
        </details>
      )}
      {acknowledged && <p className="soft">{words.open.acknowledged(acknowledged.by.name)}</p>}
    </li>
  );
}
