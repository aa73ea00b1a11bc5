/** What was measured of detection, as rows of the table: per kind of fault and size, beside what is aimed at. */

/** In tolerances. */
const SIZES = [
  { said: "1–2", least: 1, below: 2 },
  { said: "2–5", least: 2, below: 5 },
  { said: "> 5", least: 5, below: Number.POSITIVE_INFINITY },
];

/** How the cells of a row are to be read. */
export const HEADING = {
  what: "by the size of the effect in tolerances",
  ...told(
    "found | asked at the bedside: true reason first or tied (tied, of how many) | the same at the shift's end",
  ),
};

/** @param {readonly (import("./detection-outcome.mjs").Outcome & { kind: string })[]} cases @param {string[]} kinds */
export function faulty(cases, kinds) {
  const above = cases.filter(({ size }) => size >= 2);
  const [atBedside, atEnd] = ["atBedside", "atEnd"].map((when) => above.flatMap((one) => one[when] ?? []));
  return [
    ...kinds.flatMap((kind) => {
      const own = cases.filter((one) => kind === "all together" || one.kind === kind);
      return SIZES.flatMap(({ said, least, below }) => {
        const some = own.filter(({ size }) => least <= size && size < below);
        return some.length === 0 ? [] : [{ what: `    ${kind}, ${said}`, ...told(cells(some)) }];
      });
    }),
    { what: "  above 2 tolerances found", ...aimed(share(above, isFound), "≥", 0.95) },
    {
      what: "    without misread readings that a later one only set aside",
      ...told(perCent(share(above, ({ found }) => found === "finding"))),
    },
    ...(atBedside.length === 0
      ? []
      : [
          {
            what: "  of those asked about at the bedside, true reason first or in a named tie",
            ...aimed(share(atBedside, isFirst), "≥", 0.8),
          },
          {
            what: "    of all of them, asked about or not",
            ...told(perCent(share(above, (one) => one.atBedside?.first === true))),
          },
        ]),
    {
      what: "  of those asked about at the shift's end, true reason first or in a named tie",
      ...aimed(share(atEnd, isFirst), "≥", 0.8),
    },
    {
      what: "    of all of them, asked about or not",
      ...told(perCent(share(above, (one) => one.atEnd?.first === true))),
    },
  ];
}

function cells(some) {
  const aside = some.filter(({ found }) => found === "set aside").length;
  const found = `${perCent(share(some, isFound))} of ${some.length}${aside === 0 ? "" : `, ${aside} set aside`}`;
  return [found, reasons(some, "atBedside"), reasons(some, "atEnd")].join(" | ");
}

function reasons(some, when) {
  const named = some.flatMap((one) => one[when] ?? []);
  if (named.length === 0) return "–";
  const tied = named.filter((one) => isFirst(one) && one.tie > 1);
  const mean = tied.reduce((sum, { tie }) => sum + tie, 0) / tied.length;
  const ties = tied.length === 0 ? "0 %" : `${perCent(tied.length / named.length)}, of ${mean.toFixed(1)}`;
  return `${perCent(share(named, isFirst))} of ${named.length} (${ties})`;
}

/** @param {readonly { aboutReadings: boolean, toLookAt: boolean, codes: string[], asked: boolean }[]} shifts */
export function faultless(shifts) {
  const codes = [...new Set(shifts.flatMap((one) => one.codes))];
  const each = codes.map((code) => `${code} ${perCent(share(shifts, (one) => one.codes.includes(code)))}`);
  const of = (is) => share(shifts, is);
  return [
    {
      what: `  of ${shifts.length} faultless shifts, with a finding about totals, bags or flows`,
      ...aimed(
        of((one) => one.codes.length > 0),
        "≤",
        0.03,
      ),
    },
    {
      what: "    that asks or wants attention, and is no note",
      ...aimed(
        of((one) => one.toLookAt),
        "≤",
        0.03,
      ),
    },
    { what: "    about readings and clears", ...told(perCent(of((one) => one.aboutReadings))) },
    { what: "    by code", ...told(each.length === 0 ? "none" : each.join(", ")) },
    { what: "    and with a reading asked about when charted", ...told(perCent(of((one) => one.asked))) },
  ];
}

const isFound = ({ found }) => found !== null;
const isFirst = ({ first }) => first;

function share(all, is) {
  return all.length === 0 ? 0 : all.filter(is).length / all.length;
}

function perCent(value) {
  return `${(100 * value).toFixed(value > 0 && value < 0.1 ? 1 : 0)} %`;
}

function told(measured) {
  return { measured, bound: "", holds: null };
}

function aimed(value, sign, aim) {
  const holds = sign === "≥" ? value >= aim : value <= aim;
  return { measured: `${(100 * value).toFixed(1)} %`, bound: `${sign} ${100 * aim} %`, holds };
}
