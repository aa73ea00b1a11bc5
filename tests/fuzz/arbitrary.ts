/**
 * Values of a schema of the API description. Keys and instants are drawn from a few that mean something in the
 * ward that is asked, so that requests reach into the ledger instead of failing at its door.
 */

import fc from "fast-check";
import { type Schema, schemaOf } from "./description.js";

type Values = fc.Arbitrary<unknown>;

/** Whole hours and odd minutes around the ward's day, in two offsets. */
const instants: Values = fc
  .record({
    minute: fc.integer({ min: -2 * 24 * 60, max: 2 * 24 * 60 }),
    even: fc.boolean(),
    offset: fc.constantFrom("-06:00", "Z", "+05:45"),
  })
  .map(({ minute, even, offset }) => {
    const wall = Date.UTC(2026, 2, 4, 12) + (even ? Math.round(minute / 60) * 60 : minute) * 60_000;
    return new Date(wall).toISOString().replace(/\.000Z$/, offset);
  });

const keys: Values = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.constantFrom("stay-1", "stay-2", "east", "pump-1", "forearm", "saline-1", "start", "bag"),
  },
  { weight: 1, arbitrary: fc.stringMatching(/^[A-Za-z0-9._-]{1,8}$/) },
);

/** What is better drawn from what the ward knows than made up of the schema. */
const KNOWN: Readonly<Record<string, Values>> = { Instant: instants, Key: keys };

/** Values that a schema allows, as far as a schema says. */
export function valuesOf(schema: Schema, depth = 0): Values {
  if (schema.$ref !== undefined) {
    const { name, schema: meant } = schemaOf(schema.$ref);
    return KNOWN[name] ?? valuesOf(meant, depth);
  }
  if ("const" in schema) return fc.constant(schema.const);
  if (Array.isArray(schema.enum)) return fc.constantFrom(...(schema.enum as unknown[]));
  const choices = (schema.oneOf ?? schema.anyOf) as readonly Schema[] | undefined;
  if (choices !== undefined) return fc.oneof(...choices.map((choice) => valuesOf(choice, depth)));
  const types = Array.isArray(schema.type) ? (schema.type as string[]) : [schema.type as string];
  return fc.oneof(...types.map((type) => ofType(type, schema, depth)));
}

function ofType(type: string, schema: Schema, depth: number): Values {
  switch (type) {
    case "object":
      return objects(schema, depth);
    case "array":
      return arrays(schema, depth);
    case "string":
      return strings(schema);
    case "integer":
    case "number":
      return numbers(type, schema);
    case "boolean":
      return fc.boolean();
    case "null":
      return fc.constant(null);
    default:
      return fc.jsonValue();
  }
}

function objects(schema: Schema, depth: number): Values {
  const properties = (schema.properties ?? {}) as Readonly<Record<string, Schema>>;
  const required = (schema.required ?? []) as readonly string[];
  const names = Object.keys(properties).filter((name) => depth < 5 || required.includes(name));
  const others = schema.additionalProperties;
  if (names.length === 0 && typeof others === "object") {
    const named = valuesOf((schema.propertyNames ?? { type: "string" }) as Schema).map(String);
    return fc.dictionary(named, valuesOf(others as Schema, depth + 1), { maxKeys: 3 });
  }
  const fields = Object.fromEntries(names.map((name) => [name, valuesOf(properties[name]!, depth + 1)]));
  return fc.record(fields, { requiredKeys: names.filter((name) => required.includes(name)) });
}

function arrays(schema: Schema, depth: number): Values {
  const places = schema.prefixItems as readonly Schema[] | undefined;
  if (places !== undefined) return fc.tuple(...places.map((place) => valuesOf(place, depth + 1)));
  const least = (schema.minItems as number | undefined) ?? 0;
  const most = Math.min((schema.maxItems as number | undefined) ?? 4, least + 3);
  return fc.array(valuesOf((schema.items ?? {}) as Schema, depth + 1), { minLength: least, maxLength: most });
}

function strings(schema: Schema): Values {
  const examples = schema.examples as readonly string[] | undefined;
  const pattern = schema.pattern as string | undefined;
  if (examples !== undefined && examples.length > 0) return fc.constantFrom(...examples);
  // A pattern that looks ahead cannot be drawn from; its values come by the examples alone.
  if (pattern !== undefined && !pattern.includes("(?=")) return fc.stringMatching(new RegExp(pattern));
  const least = (schema.minLength as number | undefined) ?? 0;
  const most = Math.min((schema.maxLength as number | undefined) ?? 20, least + 20);
  return fc.string({ minLength: least, maxLength: most, unit: "grapheme" });
}

/** Mostly with one decimal, as people write them; bounds and odd ones now and then. */
function numbers(type: string, schema: Schema): Values {
  const least = (schema.minimum ?? schema.exclusiveMinimum ?? 0) as number;
  const most = Math.min((schema.maximum as number | undefined) ?? 2_000, least + 2_000);
  const step = type === "integer" ? 1 : 10;
  const usual = fc.integer({ min: Math.ceil(least * step), max: Math.floor(most * step) });
  return fc.oneof(
    { weight: 8, arbitrary: usual.map((many) => many / step) },
    { weight: 1, arbitrary: fc.constantFrom(least, most) },
  );
}
