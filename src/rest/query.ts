/**
 * Queries: strict, and judged as a whole. Every parameter is text; what its schema takes for a number,
 * true or false, or a list is read as one first, so that one schema both describes and judges.
 */

import { z } from "zod";
import { done, type Outcome, refused } from "../ledger/refusal.js";
import type { Fault } from "../wire/fault.js";
import { parse } from "../wire/parse.js";

/** A query as the server splits it: a name sent several times has a list. */
export type SentQuery = Readonly<Record<string, string | readonly string[]>>;

/** The query of a route that takes none. */
export const NO_QUERY = z.strictObject({});

/** What no query at all comes to by each schema: most requests send none, and it is always the same. */
const WITHOUT_QUERY = new WeakMap<z.ZodType, Outcome<unknown>>();

/** Reads a query by its schema; refuses unknown parameters and everything else that is wrong, at once. */
export function readQuery<Q>(schema: z.ZodType<Q>, sent: SentQuery): Outcome<Q> {
  if (Object.keys(sent).length > 0) return readSent(schema, sent);
  const known = WITHOUT_QUERY.get(schema) as Outcome<Q> | undefined;
  if (known !== undefined) return known;
  const read = readSent(schema, sent);
  WITHOUT_QUERY.set(schema, read);
  return read;
}

function readSent<Q>(schema: z.ZodType<Q>, sent: SentQuery): Outcome<Q> {
  const shape = schema instanceof z.ZodObject ? (schema.shape as Record<string, z.ZodType>) : {};
  const values = Object.fromEntries(
    Object.entries(sent).map(([name, value]) => {
      const of = Object.hasOwn(shape, name) ? shape[name] : undefined;
      return [name, of === undefined ? value : readValue(value, of)];
    }),
  );
  const parsed = parse(schema, values);
  if (parsed.faults === undefined) return done(parsed.value);
  return refused({ problem: "bad-parameter", errors: parsed.faults.map(parameterFault) });
}

function parameterFault({ pointer, code, detail }: Fault) {
  const parameter = decodeURIComponent(pointer.split("/")[1] ?? "")
    .replaceAll("~1", "/")
    .replaceAll("~0", "~");
  if (code !== "unknown-field") return { parameter, code, detail };
  return { parameter, code: "unknown-parameter", detail: "There is no parameter of this name here." };
}

const NUMBER = /^-?(?:0|[1-9]\d{0,15})(?:\.\d{1,15})?$/;

/** An instant whose plus sign was not percent-encoded, and so arrives as a space (URL Standard, section 5.1). */
const INSTANT_WITH_SPACE = /^(\d{4}-\d{2}-\d{2}T[\d:.]+) (\d{2}:\d{2})$/;

function readValue(sent: string | readonly string[], schema: z.ZodType): unknown {
  const kind = kindOf(schema);
  if (kind === "list") return typeof sent === "string" ? [sent] : sent;
  if (typeof sent !== "string") return sent;
  if (kind === "number") return NUMBER.test(sent) ? Number(sent) : sent;
  if (kind === "boolean") return sent === "true" ? true : sent === "false" ? false : sent;
  return sent.replace(INSTANT_WITH_SPACE, "$1+$2");
}

function kindOf(schema: z.ZodType): "number" | "boolean" | "list" | "text" {
  if (schema instanceof z.ZodOptional) return kindOf(schema.unwrap() as z.ZodType);
  if (schema instanceof z.ZodArray) return "list";
  if (schema instanceof z.ZodBoolean) return "boolean";
  if (schema instanceof z.ZodNumber) return "number";
  return schema instanceof z.ZodLiteral && typeof [...schema.values][0] === "number" ? "number" : "text";
}
