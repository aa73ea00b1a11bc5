/** Why a device should show what it should: what was read last, and what flowed since by rate and time. */

import type { Asked } from "../shift/asked.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";

interface ExpectedWhyProps {
  readonly asked: Extract<Asked, { of: "expected" }>;
  readonly at: string;
}

export function ExpectedWhy({ asked: { total }, at }: ExpectedWhyProps) {
  const { words, inTenths, rate, clockSeenFrom } = useSpeech();
  const { lastReading, expected, atRisk, flows } = total;
  return (
    <>
      <p>
        {lastReading === null
          ? words.why.expectedSinceClear(inTenths(atRisk), inTenths(expected))
          : words.why.expected(inTenths(lastReading), inTenths(atRisk), inTenths(expected))}
      </p>
      {flows.length > 0 && <h3>{words.why.delivered}</h3>}
      <ul className="sentences">
        {flows.map((flow) => {
          const speed = flow.rate === null ? words.lines.rateUnknown : rate(flow.rate);
          const [from, to] = [clockSeenFrom(flow.start, at), clockSeenFrom(flow.end, at)];
          return (
            <li key={flow.start}>
              {together(words.why.delivery(from, to, speed, inTenths(flow.volume)))}
              {flow.bag !== null && <span className="soft"> {flow.bag}</span>}
            </li>
          );
        })}
      </ul>
    </>
  );
}
