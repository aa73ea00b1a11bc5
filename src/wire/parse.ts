/**
 * Parsing at the door: a body is what its schema says, or every fault in it is named at once. zod's
 * issues become faults here and nowhere else, so that no caller ever reads "invalid union".
 */

import type { z } from "zod";
import { type Fault, type FaultCode, nameOf, type Path, pointerOf } from "./fault.js";
import { faultsOfUnion } from "./union-faults.js";

/** The most faults one answer names; a body of a megabyte could hold a quarter of a million. */
const MOST_FAULTS = 1_000;

type Issue = z.core.$ZodIssue;
type Verdict = readonly [code: FaultCode, detail: string];

/** The body as it was sent, now of the schema's type, or everything that is wrong with it. */
export function parse<T>(
  schema: z.ZodType<T>,
  body: unknown,
):
  | { readonly value: T; readonly faults?: undefined }
  | { readonly value?: undefined; readonly faults: readonly Fault[] } {
  const result = schema.safeParse(body, { reportInput: true });
  if (result.success) return { value: result.data };
  return { faults: faultsOf(result.error.issues, []).slice(0, MOST_FAULTS) };
}

function faultsOf(issues: readonly Issue[], below: Path): Fault[] {
  return issues.flatMap((issue) => faultsOfIssue(issue, [...below, ...issue.path]));
}

function faultsOfIssue(issue: Issue, path: Path): readonly Fault[] {
  if (issue.code === "unrecognized_keys") {
    const detail = `There is no field of this name in ${nameOf(path)}.`;
    return issue.keys
      .slice(0, MOST_FAULTS)
      .map((key) => ({ pointer: pointerOf([...path, key]), code: "unknown-field", detail }));
  }
  // Issues inside a union's options have paths that start at the union.
  if (issue.code === "invalid_union" && issue.errors.length > 0) {
    const options = issue.errors.map((issues) => faultsOf(issues, path));
    return faultsOfUnion(options, issue.input, path, issue.message);
  }
  const [code, rest] = verdictOn(issue);
  return [{ pointer: pointerOf(path), code, detail: `${nameOf(path)} ${rest}` }];
}

/** The code of a single issue, and how its sentence goes on after the name of the field. */
function verdictOn(issue: Issue): Verdict {
  switch (issue.code) {
    case "invalid_type":
      return verdictOnType(issue);
    case "invalid_value":
      if (issue.input === undefined) return ["required", "is required."];
      return [
        typeof issue.input === typeof issue.values[0] ? "not-one-of" : "wrong-type",
        `must be ${listed(issue.values)}.`,
      ];
    case "invalid_union":
      return verdictOnDiscriminator(issue);
    case "too_small":
      return [
        "out-of-range",
        `must be ${issue.inclusive ? "at least" : "above"} ${issue.minimum}${lengthIn(issue.origin)}.`,
      ];
    case "too_big":
      return ["out-of-range", `must be at most ${issue.maximum}${lengthIn(issue.origin)}.`];
    case "invalid_key":
      return ["wrong-form", issue.issues[0]?.message ?? issue.message];
    case "custom":
      return [issue.params?.fault as FaultCode, issue.message];
    default:
      return ["wrong-form", issue.message];
  }
}

function lengthIn(origin: string): string {
  return origin === "array" ? " items long" : "";
}

function verdictOnType({ input, expected }: z.core.$ZodIssueInvalidType): Verdict {
  if (input === undefined) return ["required", "is required."];
  if (typeof input === "number" && !Number.isFinite(input))
    return ["out-of-range", "must be a finite number."];
  if (typeof input === "number" && expected === "int")
    return ["too-many-decimals", "must be a whole number."];
  return ["wrong-type", `must be ${TYPE_NAMES[expected] ?? `a ${expected}`}.`];
}

const TYPE_NAMES: Partial<Record<string, string>> = {
  int: "a whole number",
  object: "an object",
  record: "an object",
  array: "a list",
  tuple: "a list",
  string: "a text",
  boolean: "true or false",
};

/** The field that tells the members of a union apart is missing, or names none of them. */
function verdictOnDiscriminator(issue: z.core.$ZodIssueInvalidUnion): Verdict {
  const key = issue.discriminator ?? "";
  const sent = (issue.input as Record<string, unknown>)[key];
  if (sent === undefined) return ["required", "is required."];
  if (typeof sent !== "string") return ["wrong-type", "must be a text."];
  if (key === "kind") return ["unknown-kind", "names no kind of entry that can be posted here."];
  return ["not-one-of", `must be ${listed("options" in issue ? (issue.options ?? []) : [])}.`];
}

function listed(values: readonly unknown[]): string {
  const words = values.map((value) => JSON.stringify(value)).join(", ");
  return values.length === 1 ? words : `one of ${words}`;
}
