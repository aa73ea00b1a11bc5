/** Why a volume is what it is, as the API takes it apart: what ran, what was read, and the entries behind it. */

import { useQuery } from "@tanstack/react-query";
import { aboutFigure } from "../api/asking.js";
import type { Explanation } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import type { Asked } from "../shift/asked.js";
import { Failed, Loading } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { duration, together } from "../words/numbers.js";
import { EntriesBehind } from "./entries.js";

interface ExplainedWhyProps {
  readonly asked: Extract<Asked, { of: "volume" }>;
  readonly encounter: string;
  readonly sheet: ShiftSheet;
}

export function ExplainedWhy({ asked: { per, row, from, to }, encounter, sheet }: ExplainedWhyProps) {
  const { asOf, until } = sheet.shift;
  const asked = { encounter, per, row, from, to, asOf: String(asOf.sequence), until };
  const why = useQuery(aboutFigure(asked));
  if (why.error) return <Failed failure={why.error} staleFrom={null} again={() => void why.refetch()} />;
  if (why.data === undefined) return <Loading />;
  return (
    <>
      <Apart why={why.data} />
      <EntriesBehind encounter={encounter} ids={why.data.entries} sheet={sheet} />
    </>
  );
}

const MINUTE = 60_000;

function Apart({ why }: { readonly why: Explanation }) {
  const { words, inTenths, rate, clockSeenFrom } = useSpeech();
  const time = (instant: string) => clockSeenFrom(instant, why.to);
  const { deliveries, readings, amounts, held, unattributed, basis, computed, volume, unknown } = why;
  return (
    <>
      <p lang="en">{together(why.sentence)}</p>
      {basis !== null && (
        <p className="soft">
          {words.why.basis}: {words.bases[basis]}.{" "}
          {computed !== null && computed !== volume && words.why.computed(inTenths(computed))}{" "}
          {unknown > 0 && words.why.unknown(duration(unknown * MINUTE))}
        </p>
      )}
      <Part
        heading={words.why.delivered}
        items={deliveries.map(({ channel, start, end, role, ...delivery }) => {
          const speed = delivery.rate === null ? words.lines.rateUnknown : rate(delivery.rate);
          const said = words.why.delivery(time(start), time(end), speed, inTenths(delivery.volume));
          return `${said} (${channel}, ${words.roles[role]})`;
        })}
      />
      <Part
        heading={words.why.readings}
        items={readings.map(({ channel, end, shows, delivered, computed: byRate }) => {
          const said = words.why.shows(time(end), inTenths(shows), inTenths(delivered ?? 0));
          const beside = byRate === null ? "" : `; ${words.why.agrees(inTenths(byRate))}`;
          return `${said}${beside} (${channel})`;
        })}
      />
      <Part
        heading={words.why.amounts}
        items={amounts.map(
          (one) => `${time(one.at)}: ${words.categories[one.category]}, ${inTenths(one.volume)}`,
        )}
      />
      <Part
        heading={words.why.held}
        items={held.map(({ channel, how, since }) => `${channel}: ${words.why.holds[how]}, ${time(since)}`)}
      />
      <Part
        heading={words.why.unattributed}
        items={unattributed.map(
          ({ channel, at, volume: amount }) => `${time(at)}: ${inTenths(amount)} (${channel})`,
        )}
      />
    </>
  );
}

function Part({ heading, items }: { readonly heading: string; readonly items: readonly string[] }) {
  if (items.length === 0) return null;
  return (
    <>
      <h3>{heading}</h3>
      <ul className="sentences">
        {items.map((item, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two deliveries may read alike
          <li key={index}>{together(item)}</li>
        ))}
      </ul>
    </>
  );
}
