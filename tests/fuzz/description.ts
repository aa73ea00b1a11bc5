/** The API description as the fuzz reads it: operations, their parameters and bodies, and schemas by name. */

import { readFileSync } from "node:fs";

export type Schema = Readonly<Record<string, unknown>> & { readonly $ref?: string };

export interface Parameter {
  readonly in: "path" | "query" | "header";
  readonly name: string;
  readonly required?: boolean;
  readonly schema: Schema;
}

export interface Operation {
  readonly method: string;
  /** With its parameters in braces. */
  readonly path: string;
  readonly parameters: readonly Parameter[];
  readonly body: Schema | null;
  /** Needs nobody to say who they are. */
  readonly open: boolean;
  /** The statuses it says it can answer with. */
  readonly statuses: ReadonlySet<number>;
}

interface Described {
  readonly security?: readonly object[];
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: { readonly content: Readonly<Record<string, { readonly schema: Schema }>> };
  readonly responses: Readonly<Record<string, unknown>>;
}

const text = readFileSync(new URL("../../openapi/openapi.json", import.meta.url), "utf8");
const description = JSON.parse(text) as {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Described>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, Schema>> };
};

export const OPERATIONS: readonly Operation[] = Object.entries(description.paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, { parameters = [], requestBody, responses, security }]) => ({
    method: method.toUpperCase(),
    path,
    parameters,
    open: security?.length === 0,
    body: requestBody?.content["application/json"]?.schema ?? null,
    statuses: new Set(Object.keys(responses).map(Number)),
  })),
);

/** The schema that another one refers to. Throws where there is none of that name. */
export function schemaOf(reference: string): { readonly name: string; readonly schema: Schema } {
  const name = reference.slice(reference.lastIndexOf("/") + 1);
  const schema = description.components.schemas[name];
  if (schema === undefined) throw new Error(`the description has no schema ${name}`);
  return { name, schema };
}
