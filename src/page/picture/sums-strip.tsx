/** The strip of running sums: intake, output and net since the start of the shift, each of its own stroke. */

import { useSpeech } from "../words/language.js";
import { type Drawing, Grid } from "./lane.js";
import { extent, type Point, type RunningSums } from "./sums.js";

const HEIGHT = 120;
const MARGIN = 6;

interface SumsProps {
  readonly sums: RunningSums;
  readonly drawing: Drawing;
}

export function SumsPicture({ sums, drawing }: SumsProps) {
  const { words, volume, figure } = useSpeech();
  const { axis } = drawing;
  const { least, most } = extent(sums);
  const y = (sum: number) => MARGIN + ((HEIGHT - 2 * MARGIN) * (most - sum)) / Math.max(1, most - least);
  const last = (points: readonly Point[]) => volume(points.at(-1)?.sum ?? 0);
  const label = words.picture.runningLabel(last(sums.intake), last(sums.output), last(sums.net));
  const path = (points: readonly Point[]) =>
    points.map(
      ({ at, sum }, index) => `${index === 0 ? "M" : "L"}${axis.x(at).toFixed(1)} ${y(sum).toFixed(1)}`,
    );
  return (
    <svg className="strip-picture" role="img" aria-label={label} width={axis.plot} height={HEIGHT}>
      <Grid drawing={drawing} height={HEIGHT} />
      <path className="ground" d={`M0 ${Math.round(y(0)) + 0.5}H${axis.plot}`} />
      {(["intake", "output", "net"] as const).map((of) => (
        <path key={of} className={`sum ${of}`} d={path(sums[of]).join("")} />
      ))}
      <path className="grid" d={`M0 ${y(most)}H${axis.plot}`} />
      <text x={3} y={y(most) + 13}>
        {figure(round(most))}
      </text>
    </svg>
  );
}

/** The name of the strip: each line with its stroke and what it comes to. */
export function SumsLegend({ sums }: { readonly sums: RunningSums }) {
  const { words, figure } = useSpeech();
  return (
    <ul className="sums-legend">
      {(["intake", "output", "net"] as const).map((of) => (
        <li key={of}>
          <svg width={26} height={8} aria-hidden="true">
            <path className={`sum ${of}`} d="M1 4H25" />
          </svg>
          {words.balance[of]} <strong>{figure(round(sums[of].at(-1)?.sum ?? 0))}</strong>
        </li>
      ))}
    </ul>
  );
}

/** Sums of figures shown, without the dust of binary fractions. */
function round(sum: number): number {
  return Math.round(sum * 1000) / 1000;
}
