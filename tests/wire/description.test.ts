/** What the API description will say of entries: generated from the schemas, it must say all of it. */

import { describe, expect, it } from "vitest";
import { z } from "zod";
import { EntriesBody, POSTED_KINDS, parseEntries } from "../../src/wire/entry.js";

interface Described {
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly oneOf?: readonly { readonly $ref?: string }[];
  readonly properties?: Readonly<Record<string, unknown>>;
  readonly additionalProperties?: unknown;
}

const description = z.toJSONSchema(EntriesBody, { target: "draft-2020-12", io: "input" });
const components = description.$defs as Readonly<Record<string, Described>>;
const named = Object.entries(components);

describe("the description of entries", () => {
  it("has a sentence for every component", () => {
    expect(named.filter(([, { description }]) => !description).map(([name]) => name)).toEqual([]);
  });

  it("has a component for every kind", () => {
    const kinds = components.PostedEntry?.oneOf?.map(({ $ref }) => $ref?.split("/").at(-1));
    const expected = POSTED_KINDS.map((kind) =>
      kind.replace(/(^|-)[a-z]/g, (found) => found.at(-1)!.toUpperCase()),
    );
    expect(kinds).toEqual(expected);
    expect(POSTED_KINDS).toHaveLength(35);
  });

  it("shows an example of every kind and of every way to tell it, and each is accepted", () => {
    const kinds = new Set<string>(POSTED_KINDS);
    const examples = named.flatMap(([name, { examples = [] }]) =>
      examples
        .filter((example) => kinds.has((example as { kind?: string }).kind ?? ""))
        .map((example) => [name, example] as const),
    );
    for (const [name, example] of examples) {
      expect([name, parseEntries({ entries: [example] }).faults]).toEqual([name, undefined]);
    }
    // 35 kinds, of which six are told in several ways: 5 + 4 + 5 + 4 + 2 + 4.
    expect(examples).toHaveLength(35 + 24);
  });

  it("tells how fast in exactly one way", () => {
    expect(components.FlowStarted?.oneOf).toHaveLength(5);
    expect(components.FlowStartedByRate?.properties).not.toHaveProperty("over");
    expect(components.FlowStartedByRate?.additionalProperties).toBe(false);
  });

  it("tells the defaults, which are not filled in", () => {
    expect(components.RateChangedToRate?.properties?.role).toMatchObject({ default: "primary" });
    expect(components.ChannelConnected?.properties?.clearsOn).toMatchObject({ default: ["therapy-change"] });
  });

  it("never asks for a multiple: strict clients would refuse right values", () => {
    expect(JSON.stringify(description)).not.toContain("multipleOf");
  });
});
