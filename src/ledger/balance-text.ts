/** The balance as JSON: mL as shown, how sure each figure is, and labels for people. */

import type { Balance, Beside } from "../balance/balance.js";
import type { Certainty } from "../balance/certainty.js";
import { codeOf } from "../balance/codes.js";
import type { Irrigation } from "../balance/irrigation.js";
import type { Loss } from "../balance/lost.js";
import type { CategoryRow, Figures, PartRow, Table } from "../balance/table.js";
import type { Obstacle, Urine } from "../balance/urine.js";
import type { Instant, Period } from "../time/instant.js";
import { shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";
import type { BalanceMade } from "./balance.js";
import { certaintyText, conventionsText, weightTexts } from "./balance-beside-text.js";
import type { Coordinates } from "./coordinates.js";
import { volumeText } from "./flow-text.js";
import { categoryLabel, partLabel } from "./labels.js";
import type { Interval } from "./period.js";

export interface Told {
  readonly at: Coordinates;
  readonly period: Period;
  readonly intervals: readonly Interval[];
  /** What lines are labelled. */
  readonly labels: ReadonlyMap<string, string>;
  /** From when on the cumulative figures count, where the caller says so. */
  readonly since: Instant | null;
}

export function balanceText(made: BalanceMade, told: Told): object {
  const { balance } = made;
  const { at, intervals } = told;
  const begun = intervals.map(({ start }) => start < at.until);
  const zoneAt = (instant: Instant) => shiftAt(at.facts.conventions.stretches, instant).zone;
  const time = (instant: Instant) => formatInstant(instant, zoneAt(instant));
  const text = new Text(begun, told.labels, time);
  const last = balance.cumulative.findLast((_, i) => begun[i]) ?? balance.broughtForward;
  return {
    intervals: intervals.map(({ start, end, label }) => ({
      start: time(start),
      end: time(end),
      label,
      complete: end <= at.until,
    })),
    intake: text.side(balance.intake, balance.apart.intake),
    output: text.side(balance.output, balance.apart.output),
    net: text.perInterval(balance.net.volumes),
    netCertainty: text.certainties(balance.net.certainty),
    netTotal: millilitres(balance.net.total),
    netTotalCertainty: certaintyText(balance.net.totalCertainty),
    cumulativeFrom: told.since === null ? null : time(told.since),
    broughtForward: millilitres(balance.broughtForward.shown),
    broughtForwardCertainty: certaintyText(balance.broughtForward.certainty),
    cumulative: text.perInterval(balance.cumulative.map(({ shown }) => shown)),
    cumulativeCertainty: text.certainties(balance.cumulative.map(({ certainty }) => certainty)),
    unrounded: {
      broughtForward: volumeText(balance.broughtForward.exact),
      cumulative: balance.cumulative.map(({ exact }, i) => (begun[i] ? volumeText(exact) : null)),
    },
    beside: balance.beside.map((one) => text.beside(one)),
    unmeasured: text.unmeasured(balance.unmeasured),
    unmeasuredBefore: balance.unmeasuredBefore,
    lost: made.losses.map((loss) => text.loss(loss)),
    irrigation: made.irrigation.map(irrigationText),
    urine: made.urine.map((one) => text.urine(one)),
    ...weightTexts(made.weights, at.facts.admittedAt, last, time),
    conventions: conventionsText(at.facts.conventions, told.period, time),
  };
}

class Text {
  constructor(
    private readonly begun: readonly boolean[],
    private readonly labels: ReadonlyMap<string, string>,
    private readonly time: (instant: Instant) => string,
  ) {}

  side({ rows, sums }: Table, apart: Table) {
    return {
      rows: rows.map((row) => this.row(row)),
      sums: this.perInterval(sums.volumes),
      certainty: this.certainties(sums.certainty),
      total: millilitres(sums.total),
      totalCertainty: certaintyText(sums.totalCertainty),
      apart: apart.rows.map((row) => this.row(row)),
    };
  }

  perInterval(volumes: readonly number[]): (number | null)[] {
    return volumes.map((volume, i) => (this.begun[i] ? millilitres(volume) : null));
  }

  certainties(certainties: readonly Certainty[]): (string | null)[] {
    return certainties.map((certainty, i) => (this.begun[i] ? certaintyText(certainty) : null));
  }

  beside({ outside, intake, output, net, apart }: Beside) {
    const away = outside === "before-admission" ? null : outside;
    const totals = ({ rows }: Table) =>
      rows.map(({ category, total, totalCertainty }) => ({
        key: category,
        label: categoryLabel(category),
        total: millilitres(total),
        certainty: certaintyText(totalCertainty),
      }));
    const onlySums = (table: Table, beyond: Table) => ({
      rows: totals(table),
      total: millilitres(table.sums.total),
      certainty: certaintyText(table.sums.totalCertainty),
      apart: totals(beyond),
    });
    return {
      when: away === null ? "before-admission" : "away",
      place: away?.place ?? null,
      start: away === null ? null : this.time(away.start),
      end: away === null || away.end === null ? null : this.time(away.end),
      intake: onlySums(intake, apart.intake),
      output: onlySums(output, apart.output),
      net: millilitres(net.total),
      certainty: certaintyText(net.totalCertainty),
    };
  }

  unmeasured(rows: Balance["unmeasured"]) {
    return rows.map(({ side, category, occurrences, total }) => ({
      side,
      key: category,
      label: categoryLabel(category),
      occurrences,
      total,
    }));
  }

  loss({ entry, channel, start, end, reason, volume, takenOff }: Loss) {
    return {
      entry,
      channel,
      start: this.time(start),
      end: this.time(end),
      reason,
      volume: volume === null ? null : volumeText(volume),
      takenOff: volumeText(takenOff),
    };
  }

  urine({ hours, start, end, volume, perKilogramAndHour, why, measuredAt, collectedSince }: Urine) {
    return {
      hours,
      start: this.time(start),
      end: this.time(end),
      volume: volumeText(volume),
      mLPerKgPerHour: perKilogramAndHour,
      ...(why !== null && { why: `Cannot judge, because ${this.obstacle(why)}.` }),
      ...(measuredAt !== null && { measuredAt: this.time(measuredAt) }),
      ...(collectedSince !== null && { collectedSince: this.time(collectedSince) }),
    };
  }

  private obstacle(why: Obstacle): string {
    switch (why.is) {
      case "no-weight":
        return "no weight is known";
      case "not-here":
        return "the patient has not been here that long";
      case "never-charted":
        return "no urine was ever charted";
      case "not-measured":
        return "nobody measured urine in this time";
      case "not-since":
        return `nobody measured urine since ${this.time(why.at).slice(11, 16)}`;
      case "collected-longer":
        return `it was collected since ${this.time(why.at).slice(11, 16)}, which is longer than this`;
      case "unmeasured":
        return `urine came ${why.times === 1 ? "once" : `${why.times} times`} and nobody measured it`;
      case "irrigant-unknown":
        return "nobody knows how much irrigant came back with it";
      case "negative":
        return "more irrigant went in than came out";
      default:
        return why satisfies never;
    }
  }

  private row(row: CategoryRow) {
    const { category, parts } = row;
    return {
      key: category,
      label: categoryLabel(category),
      code: codeOf(category),
      ...this.figures(row),
      parts: parts.map((part) => this.part(part)),
    };
  }

  private part(part: PartRow) {
    const { line, role, item, site, channel, share } = part;
    const since = part.since.map((at) => (at === null ? null : this.time(at)));
    return {
      line,
      role,
      item,
      site,
      channel,
      counts: share / 1_000,
      label: partLabel(part, this.labels),
      ...this.figures(part),
      since,
    };
  }

  private figures({ volumes, certainty, total, totalCertainty }: Figures) {
    return {
      volumes: this.perInterval(volumes),
      certainty: this.certainties(certainty),
      total: millilitres(total),
      totalCertainty: certaintyText(totalCertainty),
    };
  }
}

function irrigationText({ site, certainty, ...volumes }: Irrigation) {
  const shown = Object.entries(volumes).map(([name, volume]) => [name, volumeText(volume)] as const);
  return { site, ...Object.fromEntries(shown), certainty: certaintyText(certainty) };
}
