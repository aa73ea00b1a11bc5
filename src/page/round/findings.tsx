/** Every finding of a stay: what was found, what settles it, the entries it hangs on; and that a person looked at it. */

import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import type { Finding } from "../api/shapes.js";
import { aboutFindings } from "../history/asking.js";
import { aboutWho } from "../sign-in/who.js";
import { go } from "../ui/going.js";
import { Empty, Failed, Loading } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { Acknowledging } from "./acknowledging.js";

const SEVERITIES: readonly Finding["severity"][] = ["question", "attention", "note"];
const STATES: readonly Finding["state"][] = ["open", "acknowledged", "settled"];

interface FindingsViewProps {
  readonly encounter: string;
  readonly asOf: string | null;
}

export function FindingsView({ encounter, asOf }: FindingsViewProps) {
  const { words } = useSpeech();
  const asked = useQuery(aboutFindings(encounter, asOf));
  const role = useQuery({ ...aboutWho, enabled: false }).data?.me?.role;
  const [looking, setLooking] = useState<Finding | null>(null);
  // What was known then cannot be answered any more.
  const mayAct = asOf === null && (role === "nurse" || role === "charge-nurse");
  const { data } = asked;
  return (
    <section aria-labelledby="findings">
      <h2 id="findings">{words.round.findingsOfStay}</h2>
      {asked.error && <Failed failure={asked.error} staleFrom={null} again={() => void asked.refetch()} />}
      {asked.isPending && <Loading />}
      {data?.findings.length === 0 && <Empty>{words.open.none}</Empty>}
      {STATES.map((state) => {
        const found = SEVERITIES.flatMap((severity) =>
          (data?.findings ?? []).filter((one) => one.severity === severity && one.state === state),
        );
        if (found.length === 0) return null;
        return (
          <section key={state} aria-labelledby={`findings-${state}`}>
            <h3 className="gap" id={`findings-${state}`}>
              {words.round.states[state]} ({found.length})
            </h3>
            <ul className="findings">
              {found.map((finding) => (
                <FindingItem
                  key={finding.id}
                  finding={finding}
                  at={data?.until ?? ""}
                  look={mayAct && state === "open" ? () => setLooking(finding) : null}
                />
              ))}
            </ul>
          </section>
        );
      })}
      {looking && <Acknowledging encounter={encounter} finding={looking} close={() => setLooking(null)} />}
    </section>
  );
}

interface FindingItemProps {
  readonly finding: Finding;
  readonly at: string;
  /** Says that somebody looked at it; null where nobody here may, or need. */
  readonly look: (() => void) | null;
}

/** The sentences are the service's, which speaks English; the heading is in the language of the page. */
function FindingItem({ finding, at, look }: FindingItemProps) {
  const { words, clockSeenFrom } = useSpeech();
  const { code, severity, sentence, settledBy, acknowledged, concerns } = finding;
  const { start, channel, entries } = concerns;
  const where = [words.open.severities[severity], channel, start && clockSeenFrom(start, at)];
  return (
    <li className={`finding ${severity}`}>
      <h4>
        {words.findings[code]} <span className="soft">{where.filter(Boolean).join(", ")}</span>
      </h4>
      <p lang="en">{together(sentence)}</p>
      {settledBy.length > 0 && finding.state !== "settled" && (
        <>
          <p className="soft">{words.open.settledBy}:</p>
          <ul className="sentences bulleted" lang="en">
            {settledBy.map(({ text }) => (
              <li key={text}>{together(text)}</li>
            ))}
          </ul>
        </>
      )}
      {acknowledged && (
        <p>
          {words.round.lookedAt(acknowledged.by.name, clockSeenFrom(acknowledged.at, at))}: “
          {acknowledged.reason}”
        </p>
      )}
      <div className="controls">
        {look && (
          <button type="button" onClick={look}>
            {words.round.look}
            <span className="unseen">
              : {words.findings[code]}, {sentence}
            </span>
          </button>
        )}
        {entries.map((entry, index) => (
          <button key={entry} type="button" onClick={() => go({ entry })}>
            {words.round.entryBehind(index + 1, entries.length)}
            <span className="unseen">
              : {words.findings[code]}, {sentence}
            </span>
          </button>
        ))}
      </div>
    </li>
  );
}
