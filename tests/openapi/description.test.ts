/** The API description: what is committed is what the code says, it says all of it, and linters agree. */

import { execFile } from "node:child_process";
import { readFileSync } from "node:fs";
import { promisify } from "node:util";
import openapiTypeScript, { astToString, COMMENT_HEADER } from "openapi-typescript";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { workedAnswers } from "../../src/describe/answers.js";
import { openApi, openApiText } from "../../src/rest/openapi.js";
import { PROBLEM_NAMES, PROBLEMS } from "../../src/rest/problems.js";
import { nameOf } from "../../src/rest/route.js";
import { ROUTES } from "../../src/rest/routes.js";
import { FAULT_CODES } from "../../src/wire/fault.js";
import { parse } from "../../src/wire/parse.js";
import { Ward } from "../rest/ward.js";

// biome-ignore lint/suspicious/noExplicitAny: the description is JSON, read by the field a test is about
type Json = any;

const examples = await workedAnswers();
const description = openApi(examples) as Json;

const operations: readonly (readonly [name: string, operation: Json])[] = Object.entries<Json>(
  description.paths,
).flatMap(([path, methods]) =>
  Object.entries<Json>(methods).map(
    ([method, operation]) => [`${method.toUpperCase()} ${path}`, operation] as const,
  ),
);

describe("what is committed", () => {
  it("is the description the code makes; `npm run openapi` writes it", () => {
    expect(readFileSync("openapi/openapi.json", "utf8")).toBe(openApiText(examples));
  });

  it("is the typed client that follows from it", async () => {
    const types = await openapiTypeScript(openApiText(examples), { defaultNonNullable: false });
    expect(readFileSync("openapi/client.ts", "utf8")).toBe(COMMENT_HEADER + astToString(types));
  });

  it("is what the service tells", async () => {
    const ward = await Ward.open({ empty: true });
    const served = await ward.get("/openapi.json", { as: null });
    expect([served.status, served.body]).toEqual([200, description]);
  });

  it("passes the linter without a warning", async () => {
    const quiet = { REDOCLY_TELEMETRY: "off", REDOCLY_SUPPRESS_UPDATE_NOTICE: "true" };
    const redocly = "node_modules/@redocly/cli/bin/cli.js";
    const asked = ["lint", "openapi/openapi.json", "--config", ".redocly.yaml", "--format", "json"];
    // Rejects where there are errors; what is on standard output is the list of what was found.
    const { stdout } = await promisify(execFile)(process.execPath, [redocly, ...asked], {
      env: { ...process.env, ...quiet },
      maxBuffer: 64 * 1024 * 1024,
    });
    const { problems } = JSON.parse(stdout) as { problems: { ruleId: string; ignored?: boolean }[] };
    expect(problems.filter(({ ignored }) => ignored !== true).map(({ ruleId }) => ruleId)).toEqual([]);
  });
});

/** Methods and paths of the router's tree, in which every level is four columns wide. */
function routesIn(tree: string): string[] {
  const above: string[] = [];
  return tree.split("\n").flatMap((line) => {
    const [, indent = "", segment = "", methods] =
      /^([│ ]*)[├└]── (\S*)(?: \(([A-Z, ]+)\))?/.exec(line) ?? [];
    const depth = indent.length / 4;
    above.splice(depth, above.length, segment);
    const path = above.join("").replace(/:(\w+)/g, "{$1}");
    return methods?.split(", ").map((method) => `${method} ${path}`) ?? [];
  });
}

describe("the description has", () => {
  it("every route of the service, and no other", async () => {
    const ward = await Ward.open({ empty: true });
    const routes = routesIn(ward.app.printRoutes({ commonPrefix: false }));
    const pages = /^(HEAD|OPTIONS) |\/problems|\/reference|\/openapi\.json/;
    expect(routes.filter((route) => !pages.test(route)).sort()).toEqual(
      operations.map(([name]) => name).sort(),
    );
  });

  it("every problem, each with its status, and no other", () => {
    const told = new Map<string, Set<number>>();
    for (const [, { responses }] of operations) {
      for (const [status, response] of Object.entries<Json>(responses)) {
        const name = response.$ref?.split("/").pop();
        if (name === undefined) continue;
        const { content } = description.components.responses[name];
        for (const { value } of Object.values<Json>(content["application/problem+json"].examples)) {
          expect(String(value.status)).toBe(status);
          told.set(value.type, (told.get(value.type) ?? new Set()).add(value.status));
        }
      }
    }
    // 405 is an answer of addresses, not of operations.
    const names = PROBLEM_NAMES.filter((name) => name !== "method-not-allowed");
    expect([...told.keys()].sort()).toEqual(names.map((name) => `/problems/${name}`).sort());
    for (const name of names) expect(told.get(`/problems/${name}`)).toEqual(new Set([PROBLEMS[name].status]));
  });

  it("every code of a fault", () => {
    expect(description.components.schemas.Fault.properties.code.enum).toEqual(FAULT_CODES);
  });

  it("a sentence on every operation, parameter, answer and schema", () => {
    for (const [name, { summary, description: text, parameters = [], responses }] of operations) {
      expect(
        [summary, text].every((one) => typeof one === "string" && one.length > 5),
        name,
      ).toBe(true);
      for (const parameter of parameters)
        expect(parameter.description, `${name} ${parameter.name}`).toMatch(/\.$/);
      for (const response of Object.values<Json>(responses)) {
        if (response.$ref === undefined) expect(response.description, name).toMatch(/\.$/);
      }
    }
    for (const [name, schema] of Object.entries<Json>(description.components.schemas)) {
      expect(schema.description, name).toMatch(/\.$/);
    }
  });

  it("a sentence on every property of every schema", () => {
    const properties = Object.entries<Json>(description.components.schemas).flatMap(([name, schema]) =>
      propertiesIn(schema, name),
    );
    expect(properties.length).toBeGreaterThan(500);
    expect(properties.filter(([, property]) => !isDescribed(property)).map(([place]) => place)).toEqual([]);
  });

  it("examples of every request body, each one that the service reads", () => {
    const withBody = ROUTES.flatMap((route) => (route.body ? [[nameOf(route), route.body] as const] : []));
    const asked = operations.filter(([, { requestBody }]) => requestBody !== undefined);
    expect(asked.map(([name]) => name).sort()).toEqual(withBody.map(([name]) => name).sort());
    for (const [name, { read }] of withBody) {
      const [, { requestBody }] = asked.find(([one]) => one === name)!;
      const shown = Object.values<Json>(requestBody.content["application/json"].examples ?? {});
      expect(shown, name).not.toEqual([]);
      for (const { value } of shown) expect(read(value).faults, name).toBeUndefined();
    }
  });

  it("an example of each form that a change of a stay can have", () => {
    const { content } = description.paths["/v1/encounters/{encounter}"].patch.requestBody;
    const shown = Object.values<Json>(content["application/json"].examples);
    const forms = shown.map(({ value }) => Object.keys(value)[0]);
    expect(forms.sort()).toEqual(["bed", "discharge", "dischargedAt", "move"]);
  });

  it("the units of every quantity, and no multipleOf", () => {
    const { Volume, Rate, Weight } = description.components.schemas;
    expect([Volume.description, Rate.description]).toEqual([
      expect.stringContaining("in mL"),
      expect.stringContaining("in mL/h"),
    ]);
    expect(Weight.properties.unit.enum).toEqual(["kg", "g", "lb"]);
    expect(JSON.stringify(description)).not.toContain("multipleOf");
  });

  it("the caution that a figure is an estimate, and who decides", () => {
    expect(description.info.description).toMatch(
      /controls no device, doses no drug and gives no advice on treatment/,
    );
    expect(description.info.description).toMatch(/an estimate .*the device, the bag and the patient/s);
    expect(description.info.description).toMatch(/local policy and licensed practice decide/);
  });

  it("references that all lead somewhere, and names that all are used", () => {
    const text = JSON.stringify(description);
    const references = new Set(
      [...text.matchAll(/"\$ref":"#\/components\/(\w+)\/([^"]+)"/g)].map(
        ([, kind, name]) => `${kind}/${name}`,
      ),
    );
    const { securitySchemes: _, ...components } = description.components;
    const there = Object.entries<Json>(components).flatMap(([kind, named]) =>
      Object.keys(named).map((name) => `${kind}/${name}`),
    );
    expect([...references].sort()).toEqual(there.sort());
  });
});

/** Every property of a schema with its place, in whichever of its forms and at whatever depth. */
function propertiesIn(schema: Json, place: string): [place: string, property: Json][] {
  const own = Object.entries<Json>(schema.properties ?? {}).map(([key, property]): [string, Json] => [
    `${place}.${key}`,
    property,
  ]);
  const forms: Json[] = [schema.anyOf, schema.oneOf, schema.allOf].flatMap((some) => some ?? []);
  const members = [schema.items, schema.additionalProperties].filter((one) => typeof one === "object");
  return [
    ...own,
    ...own.flatMap(([inner, property]) => propertiesIn(property, inner)),
    ...forms.flatMap((form) => propertiesIn(form, place)),
    ...members.flatMap((member) => propertiesIn(member, `${place}[]`)),
  ];
}

/** By itself, by what it refers to or by one of its forms; a constant says all there is. */
function isDescribed(property: Json): boolean {
  if ("const" in property || property.description !== undefined) return true;
  const name = property.$ref?.split("/").pop();
  if (name !== undefined) return isDescribed(description.components.schemas[name]);
  return [property.anyOf, property.oneOf, property.allOf].flatMap((some) => some ?? []).some(isDescribed);
}

it.each(ROUTES.map((route) => [nameOf(route), route] as const))(
  "the examples of %s are there, and what its schemas say",
  (name, { answers, body }) => {
    for (const { schema, status } of answers) {
      if (schema === undefined) continue;
      const example = examples[`${name} ${status}`];
      expect(example, `${name} ${status}`).toBeDefined();
      expect(parse(schema, example).faults).toBeUndefined();
    }
    if (body === undefined) return;
    const bodies = examplesOf(body.schema);
    expect(bodies).not.toEqual([]);
    for (const one of bodies) expect(body.read(one).faults).toBeUndefined();
  },
);

/** The examples of a body, or of each of the forms it can have. */
function examplesOf(schema: z.ZodType): unknown[] {
  const own = (schema.meta()?.examples ?? []) as unknown[];
  return own.length === 0 && schema instanceof z.ZodUnion
    ? (schema.options as z.ZodType[]).flatMap(examplesOf)
    : own;
}

it("no two schemas have one name: one of them would stand for both", () => {
  const names = [...schemasIn(ROUTES.flatMap(({ answers, body }) => [...answers, ...(body ? [body] : [])]))];
  const ids = names.flatMap((schema) => schema.meta()?.id ?? []);
  expect(ids.length).toBeGreaterThan(100);
  expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
});

/** Every schema that others are made of, once. */
function schemasIn(roots: readonly { readonly schema?: z.ZodType }[]): Set<z.ZodType> {
  const found = new Set<z.ZodType>();
  const seen = new Set<object>();
  const look = (value: unknown): void => {
    if (typeof value !== "object" || value === null || seen.has(value)) return;
    seen.add(value);
    if (value instanceof z.ZodType) found.add(value);
    for (const inner of Object.values(value instanceof z.ZodType ? value._zod.def : value)) look(inner);
  };
  for (const { schema } of roots) look(schema);
  return found;
}
