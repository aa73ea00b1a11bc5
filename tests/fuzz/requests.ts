/** Requests made of the API description: right ones, nearly right ones and hostile ones. */

import fc from "fast-check";
import { PEOPLES_ROLES, ROLES } from "../../src/access/roles.js";
import { valuesOf } from "./arbitrary.js";
import { OPERATIONS, type Operation, type Parameter } from "./description.js";
import { hostileBodies, hostileHeaders, hostileTexts, spoiled } from "./hostile.js";

export interface Sent {
  readonly operation: Operation;
  readonly url: string;
  /** Its path has an empty place, or a dot that leads out of it: it is the address of something else, or of nothing. */
  readonly elsewhere: boolean;
  /** Whose token it bears, or whose session's cookie comes with it (`session nurse`); null for neither. */
  readonly as: string | null;
  readonly headers: Readonly<Record<string, string>>;
  /** The body's text; null for none. */
  readonly text: string | null;
}

/** Who has signed in to the pages. */
export const SESSIONS = PEOPLES_ROLES.map((role) => `session ${role}` as const);

/** Nurses chart most; every role asks for everything now and then. */
const callers = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom<string | null>("nurse", "charge-nurse", "administrator") },
  { weight: 2, arbitrary: fc.constantFrom<string | null>(...ROLES, ...ROLES.map((role) => `${role}@west`)) },
  { weight: 3, arbitrary: fc.constantFrom<string | null>(...SESSIONS) },
  { weight: 1, arbitrary: fc.constantFrom<string | null>(null, "nobody") },
);

/** One request of any operation; what a POST or PATCH asks comes more often, since it goes deeper. */
export const requests: fc.Arbitrary<Sent> = fc
  .oneof(
    ...OPERATIONS.map((operation) => ({
      weight: operation.body === null ? 1 : 3,
      arbitrary: fc.constant(operation),
    })),
  )
  .chain((operation) =>
    fc
      .record({
        as: callers,
        values: fc.tuple(...operation.parameters.map(parameterValue)),
        headers: rarely(hostileHeaders, {}),
        body: bodyOf(operation),
      })
      .map(({ as, values, headers, body }) => written(operation, as, values, headers, body)),
  );

/** One in ten of something, else what is usual. */
function rarely<T, U>(what: fc.Arbitrary<T>, usual: U): fc.Arbitrary<T | U> {
  return fc.oneof({ weight: 9, arbitrary: fc.constant(usual) }, { weight: 1, arbitrary: what });
}

interface Body {
  readonly type: string;
  readonly text: string;
}

function bodyOf({ body }: Operation): fc.Arbitrary<Body | null> {
  if (body === null) return rarely(hostileBodies, null);
  const json = (value: unknown): Body => ({ type: "application/json", text: JSON.stringify(value) ?? "" });
  const right = valuesOf(body);
  return fc.oneof(
    { weight: 5, arbitrary: right.map(json) },
    { weight: 4, arbitrary: right.chain(spoiled).map(json) },
    { weight: 1, arbitrary: hostileBodies },
  );
}

/** Ids that are there, for the places of a path. */
const THERE: Readonly<Record<string, readonly string[]>> = {
  encounter: ["stay-1", "stay-1", "stay-1", "stay-2"],
  unit: ["east", "west"],
  entry: ["start", "bag", "pump"],
  date: ["2026-03-04"],
  shift: ["day", "night"],
};

/** What a parameter is given; undefined where it is left out. */
function parameterValue(parameter: Parameter): fc.Arbitrary<string | undefined> {
  const there = parameter.in === "path" ? THERE[parameter.name] : undefined;
  const made = valuesOf(parameter.schema).map(asText);
  const right =
    there === undefined ? made : fc.oneof({ weight: 6, arbitrary: fc.constantFrom(...there) }, made);
  const given = fc.oneof({ weight: 9, arbitrary: right }, { weight: 1, arbitrary: hostileTexts });
  if (parameter.in === "path") return given;
  return fc.option(given, { freq: 2, nil: undefined });
}

function asText(value: unknown): string {
  return typeof value === "object" ? JSON.stringify(value) : String(value);
}

function written(
  operation: Operation,
  as: string | null,
  values: readonly (string | undefined)[],
  hostile: Readonly<Record<string, string>>,
  body: Body | null,
): Sent {
  let path = operation.path;
  let elsewhere = false;
  const query: string[] = [];
  const headers: Record<string, string> = {};
  operation.parameters.forEach((parameter, i) => {
    const value = values[i];
    if (value === undefined) return;
    if (parameter.in === "path") {
      path = path.replace(`{${parameter.name}}`, escaped(value));
      elsewhere ||= /^\.{0,2}$/.test(value);
    } else if (parameter.in === "query") query.push(`${escaped(parameter.name)}=${escaped(value)}`);
    // A header of other characters does not leave the client.
    else if (/^[\x20-\x7e]*$/.test(value)) headers[parameter.name.toLowerCase()] = value;
  });
  if (body !== null && body.type !== "") headers["content-type"] = body.type;
  return {
    operation,
    url: query.length === 0 ? path : `${path}?${query.join("&")}`,
    elsewhere,
    as,
    headers: { ...headers, ...hostile },
    text: body?.text ?? null,
  };
}

/** Escaped for an address; what is no text at all (half a character) is sent as the sign for that. */
function escaped(text: string): string {
  return encodeURIComponent(Buffer.from(text).toString());
}
