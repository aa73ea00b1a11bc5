/** A bag that hangs: what its label says, what it has delivered, what is left, and when it is empty. */

import type { ChannelTotals, Entry } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import type { Ask } from "./asked.js";

interface BagFiguresProps {
  readonly flow: NonNullable<ChannelTotals["flow"]>;
  /** Its last hanging; null where none is known. */
  readonly hanging: Entry | null;
  readonly sheet: ShiftSheet;
  readonly ask: Ask;
}

export function BagFigures({ flow, hanging, sheet, ask }: BagFiguresProps) {
  const { words, inTenths, volume, clockSeenFrom } = useSpeech();
  const { shift, bags } = sheet;
  const at = shift.totals.at;
  if (flow.bag === null) return <p className="soft">{words.lines.noBag}</p>;
  const label = typeof hanging?.volume === "number" ? hanging.volume : null;
  const delivered = bags?.rows.find(({ key }) => key === flow.bag)?.total ?? null;
  return (
    <>
      <BagGauge label={label} left={flow.left} />
      <dl className="bag">
        {label !== null && <Pair name={words.lines.labelled}>{volume(label)}</Pair>}
        {delivered !== null && bags !== null && (
          <Pair name={words.lines.delivered}>
            <button
              type="button"
              className="figure inline"
              aria-label={words.table.why(flow.bag, words.lines.delivered, inTenths(delivered))}
              onClick={() =>
                ask({
                  of: "volume",
                  per: "bag",
                  row: flow.bag,
                  name: flow.bag ?? "",
                  value: delivered,
                  from: bags.from,
                  to: bags.to,
                })
              }
            >
              {inTenths(delivered)}
            </button>
          </Pair>
        )}
        {flow.left !== null && <Pair name={words.lines.left}>{inTenths(flow.left)}</Pair>}
        {flow.emptyAt !== null && (
          <Pair name={words.lines.emptyAt}>{together(clockSeenFrom(flow.emptyAt, at))}</Pair>
        )}
        {flow.endsAt !== null && flow.endsAt !== flow.emptyAt && (
          <Pair name={words.lines.endsAt}>{together(clockSeenFrom(flow.endsAt, at))}</Pair>
        )}
      </dl>
    </>
  );
}

function Pair({ name, children }: { readonly name: string; readonly children: React.ReactNode }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** What is left of the label, from the left: a bag that empties. */
function BagGauge({ label, left }: { readonly label: number | null; readonly left: number | null }) {
  if (label === null || left === null || label <= 0) return null;
  const share = Math.min(100, Math.max(0, (100 * left) / label));
  return (
    <svg className="gauge" aria-hidden="true" height={8} width="100%">
      <rect className="gauge-whole" x={0.75} y={0.75} width="99%" height={6.5} />
      <rect className="gauge-left" x={0.75} y={0.75} width={`${share * 0.99}%`} height={6.5} />
    </svg>
  );
}
