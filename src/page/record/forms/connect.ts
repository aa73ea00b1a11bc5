/** A channel on a line: one that is there, or one that is placed now. */

import type { Posted } from "../../api/shapes.js";
import type { Values } from "../draft.js";
import type { Field, Form } from "../form.js";
import type { Asking } from "./asking.js";

const NEW = "new";
const ROUTES = ["intravenous", "arterial", "enteral", "subcutaneous", "epidural", "intraosseous"] as const;
const TYPES = ["pump", "syringe", "gravity", "metered"] as const;
const TOTALS = ["separate", "combined", "none"] as const;
/** Drops in a millilitre. */
const DROP_FACTOR = { most: 100, decimals: 0 };

export function connectForm(asking: Asking): Form {
  const { words } = asking.speech;
  const lines = linesIn(asking);
  return {
    title: words.record.titles.connect,
    initial: { line: lines.length === 0 ? NEW : "", route: "intravenous", type: "pump", totals: "separate" },
    timed: true,
    fields: (values) => fieldsOf(asking, lines, values),
    entries: (entered, at) => {
      const type = TYPES.find((one) => one === entered.text("type")) ?? "pump";
      const totals = TOTALS.find((one) => one === entered.text("totals")) ?? "none";
      const label = entered.text("label");
      const isNew = entered.text("line") === NEW;
      const line = isNew ? lineKey(label, lines) : entered.text("line");
      const dropFactor = entered.number("drops");
      const route = ROUTES.find((one) => one === entered.text("route")) ?? "intravenous";
      const placed: Posted[] = isNew ? [{ kind: "line-placed", at, line, label, route }] : [];
      const channel = channelKey(asking, type);
      return [
        ...placed,
        {
          ...{ kind: "channel-connected", at, channel, line, type, totals },
          ...(dropFactor === null ? {} : { dropFactor }),
        },
      ];
    },
  };
}

interface Line {
  readonly key: string;
  readonly label: string;
}

function linesIn({ sheet }: Asking): Line[] {
  const lines = new Map<string, string>();
  for (const { line, lineLabel } of sheet.shift.totals.channels) {
    if (line !== null) lines.set(line, lineLabel ?? line);
  }
  for (const entry of sheet.entries) {
    if (entry.kind !== "line-placed" || typeof entry.line !== "string") continue;
    lines.set(entry.line, typeof entry.label === "string" ? entry.label : entry.line);
  }
  return [...lines].map(([key, label]) => ({ key, label }));
}

function fieldsOf({ speech: { words } }: Asking, lines: readonly Line[], values: Values): Field[] {
  const { record } = words;
  const choice = (key: string, label: string, options: { value: string; label: string }[]): Field => ({
    is: "choice",
    key,
    label,
    options,
  });
  const gravity = values.type === "gravity";
  const drops: Field = {
    is: "number",
    key: "drops",
    label: record.dropFactor,
    unit: record.dropFactorUnit,
    limits: DROP_FACTOR,
    zero: false,
    optional: true,
  };
  return [
    choice("line", record.line, [
      ...lines.map(({ key, label }) => ({ value: key, label })),
      { value: NEW, label: record.newLine },
    ]),
    ...(values.line === NEW
      ? [
          { is: "text", key: "label", label: record.lineLabel } as const,
          choice(
            "route",
            record.route,
            ROUTES.map((value) => ({ value, label: record.routes[value] })),
          ),
        ]
      : []),
    choice(
      "type",
      record.type,
      TYPES.map((value) => ({ value, label: record.types[value] })),
    ),
    ...(gravity
      ? [drops]
      : [
          choice(
            "totals",
            record.counts,
            TOTALS.map((value) => ({ value, label: record.countsAs[value] })),
          ),
        ]),
  ];
}

function lineKey(label: string, lines: readonly Line[]): string {
  const plain = label
    .normalize("NFD")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 40);
  const key = plain === "" ? "line" : plain;
  const taken = new Set(lines.map((line) => line.key));
  let number = 1;
  while (taken.has(number === 1 ? key : `${key}-${number}`)) number += 1;
  return number === 1 ? key : `${key}-${number}`;
}

/** The next of its type that this stay has not had: "pump-3". */
function channelKey({ sheet }: Asking, type: string): string {
  const taken = new Set(sheet.shift.totals.channels.map(({ channel }) => channel));
  let number = 1;
  while (taken.has(`${type}-${number}`)) number += 1;
  return `${type}-${number}`;
}
