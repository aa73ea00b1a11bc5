/**
 * The zod schemas as JSON Schema (draft 2020-12, as OpenAPI 3.1 takes it). A schema with a name stands
 * once among the components and is referred to; what nothing refers to is left out.
 */

import { z } from "zod";

export type Json = Readonly<Record<string, unknown>>;

const COMPONENTS = "#/components/schemas/";

/** A schema as it stands at a place of the description: a reference where it has a name. */
export function schemaAt(schema: z.ZodType): Json {
  const id = z.globalRegistry.get(schema)?.id;
  if (id !== undefined) return { $ref: COMPONENTS + id };
  const { $defs, $schema, ...inline } = z.toJSONSchema(schema, SETTINGS);
  return JSON.parse(JSON.stringify(inline).replaceAll('"#/$defs/', `"${COMPONENTS}`)) as Json;
}

/** Every named schema that `description` refers to, and those that these refer to, in order of their names. */
export function componentsFor(description: Json): Readonly<Record<string, Json>> {
  const { schemas } = z.toJSONSchema(z.globalRegistry, { ...SETTINGS, uri: (id) => COMPONENTS + id });
  const found = new Map<string, Json>();
  const follow = (json: Json): void => {
    for (const name of referredTo(json)) {
      if (found.has(name)) continue;
      const { $schema, $id, ...schema } = schemas[name] as Json;
      found.set(name, schema);
      follow(schema);
    }
  };
  follow(description);
  return Object.fromEntries([...found].sort(([a], [b]) => (a < b ? -1 : 1)));
}

function referredTo(json: Json): string[] {
  const references = JSON.stringify(json).matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g);
  return [...new Set([...references].map(([, name]) => name!))];
}

const SETTINGS = {
  target: "draft-2020-12",
  // As a caller writes them: nothing here is transformed, so answers are written the same way.
  io: "input",
} as const;
