/**
 * Random entries made from nothing but the API description of them: whatever it allows, except for the
 * few things it can only say in words (units, and that one instant lies before another).
 */

import fc from "fast-check";
import { z } from "zod";
import { EntriesBody, type PostedEntry, parseEntries } from "../../src/wire/entry.js";

interface Described {
  readonly $ref?: string;
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly type?: string;
  readonly oneOf?: readonly Described[];
  readonly anyOf?: readonly Described[];
  readonly properties?: Readonly<Record<string, Described>>;
  readonly required?: readonly string[];
  readonly items?: Described | false;
  readonly prefixItems?: readonly Described[];
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly maxLength?: number;
  readonly minimum?: number;
  readonly exclusiveMinimum?: number;
  readonly maximum?: number;
}

const description = z.toJSONSchema(EntriesBody, { target: "draft-2020-12", io: "input" });
const components = description.$defs as unknown as Readonly<Record<string, Described>>;

const instant = fc
  .record({
    at: fc.date({ min: new Date("2024-01-01Z"), max: new Date("2027-01-01Z"), noInvalidDate: true }),
    ends: fc.constantFrom("Z", "-06:00", "+05:30", ".250Z", ".5+13:45"),
  })
  .map(({ at, ends }) => at.toISOString().slice(0, 19) + ends);

/** What the description says of these in words. */
const IN_WORDS: Readonly<Record<string, fc.Arbitrary<unknown>>> = {
  Instant: instant,
  Key: fc.stringMatching(/^[A-Za-z0-9._-]{1,64}$/),
  Duration: fc.constantFrom("PT30M", "PT1H30M", "P1DT2H", "PT90S"),
  Dose: fc.record({
    value: decimal({ exclusiveMinimum: 0, maximum: 1_000 }, 6),
    unit: fc.constantFrom("ug/kg/min", "[iU]/kg/h", "mg/h", "mcg/kg/min"),
  }),
  DrugAmount: fc.record({
    value: decimal({ exclusiveMinimum: 0, maximum: 1_000 }, 6),
    unit: fc.constantFrom("mg", "ug/kg", "[iU]", "units"),
  }),
  Additive: fc.record({
    name: words(500),
    amount: decimal({ exclusiveMinimum: 0, maximum: 1_000 }, 6),
    unit: fc.constantFrom("mg", "mmol", "[iU]"),
  }),
};

/** A number with at most so many decimals, its bounds more often than the numbers between them. */
function decimal(said: Described, places: number): fc.Arbitrary<number> {
  const one = 10 ** places;
  const [least, most] = [said.minimum ?? 0, Math.min(said.maximum ?? 1_000, 100_000)];
  const above = said.exclusiveMinimum === undefined ? 0 : 1;
  return fc.integer({ min: Math.ceil(least * one) + above, max: most * one }).map((whole) => whole / one);
}

/** What people write: any script, a newline now and then, never blank. */
function words(longest: number): fc.Arbitrary<string> {
  const piece = fc.string({ unit: "grapheme", minLength: 1, maxLength: Math.min(longest, 20) });
  return piece.filter((text) => text.trim() !== "" && !/[^\P{Cc}\n]/u.test(text));
}

function arbitraryOf(said: Described): fc.Arbitrary<unknown> {
  if (said.$ref !== undefined) {
    const name = said.$ref.split("/").at(-1)!;
    return IN_WORDS[name] ?? arbitraryOf(components[name]!);
  }
  if (said.const !== undefined) return fc.constant(said.const);
  if (said.enum !== undefined) return fc.constantFrom(...said.enum);
  const choice = said.oneOf ?? said.anyOf;
  if (choice !== undefined) return fc.oneof(...choice.map(arbitraryOf));
  switch (said.type) {
    case "object":
      return objectOf(said);
    case "array":
      if (said.prefixItems !== undefined) return fc.tuple(...said.prefixItems.map(arbitraryOf));
      return fc.array(arbitraryOf(said.items as Described), {
        minLength: said.minItems ?? 0,
        maxLength: Math.min(said.maxItems ?? 3, 3),
      });
    case "string":
      return words(said.maxLength ?? 20);
    case "boolean":
      return fc.boolean();
    case "integer":
      return fc.integer({ min: said.minimum ?? 0, max: said.maximum ?? 1_000 });
    case "number":
      return decimal(said, 3);
    default:
      throw new Error(`the description says something new: ${JSON.stringify(said)}`);
  }
}

function objectOf({ properties = {}, required = [] }: Described): fc.Arbitrary<unknown> {
  const fields: Record<string, fc.Arbitrary<unknown>> = {};
  for (const [name, said] of Object.entries(properties)) fields[name] = arbitraryOf(said);
  return fc.record(fields, { requiredKeys: [...required] });
}

/** Entries of a kind that are well formed. */
export function entriesOf(kind: PostedEntry["kind"]): fc.Arbitrary<Record<string, unknown>> {
  const name = kind.replace(/(^|-)[a-z]/g, (found) => found.at(-1)!.toUpperCase());
  const entry = kind === "entry-amended" ? amendment(components[name]!) : arbitraryOf({ $ref: `#/${name}` });
  return (entry as fc.Arbitrary<Record<string, unknown>>).filter(
    (one) => parseEntries({ entries: [one] }).faults === undefined,
  );
}

/** A replacement has no id of its own. */
function amendment(said: Described): fc.Arbitrary<unknown> {
  const entry = arbitraryOf(said) as fc.Arbitrary<Record<string, Record<string, unknown>>>;
  return entry.map(({ replacement, ...rest }) => {
    const { id: _, ...fact } = replacement!;
    return { ...rest, replacement: fact };
  });
}
