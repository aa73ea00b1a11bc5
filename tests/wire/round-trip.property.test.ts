/** An entry is kept and shown exactly as it was sent, whatever its kind and whatever of it is said. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { entryText } from "../../src/ledger/entries.js";
import { canonical, recordedFrom, rowOf } from "../../src/ledger/record.js";
import { decodeEntry } from "../../src/wire/decode.js";
import { POSTED_KINDS, type PostedEntry, parseEntries } from "../../src/wire/entry.js";
import { readInstant } from "../../src/wire/instant.js";
import { when } from "../ledger/telling.js";
import { PATIENCE, runs } from "../properties/runs.js";
import { entriesOf } from "./described.js";

const NURSE = { id: "n-1", name: "A. Nurse", role: "nurse" };

/** The row of an entry as the seventh of a stay. */
function row(sent: object) {
  const body = sent as PostedEntry;
  const recordedAt = when("07:30");
  const chain = "encounter/stay-1" as const;
  const previous = "0".repeat(64);
  return rowOf(
    { chain, sequence: 7, id: "e-7", recordedAt, by: NURSE, source: "person", body, previous },
    { at: null, declares: null },
  );
}

/** The same JSON with the fields of every object the other way round. */
function turned(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(turned);
  if (typeof value !== "object" || value === null) return value;
  const fields = Object.entries(value).reverse();
  return Object.fromEntries(fields.map(([name, field]) => [name, turned(field)]));
}

const parsed = (sent: unknown) => parseEntries(JSON.parse(JSON.stringify({ entries: [sent] }))).entries;

describe.each(POSTED_KINDS)("%s", (kind) => {
  const property = (holds: (sent: Record<string, unknown>) => void) =>
    fc.assert(fc.property(entriesOf(kind), holds), { ...runs(20), seed: 35 });

  it("is understood as it was sent, with nothing filled in", { timeout: PATIENCE }, () => {
    property((sent) => {
      expect(parsed(sent)).toEqual([sent]);
    });
  });

  it("is kept as it was sent, the order of its fields aside", { timeout: PATIENCE }, () => {
    property((sent) => {
      expect(recordedFrom(row(sent).text).body).toEqual(sent);
      expect(row(turned(sent) as object)).toEqual(row(sent));
    });
  });

  it("is shown as it was sent, so that it can be sent again", { timeout: PATIENCE }, () => {
    property((sent) => {
      const { recorded: _, ...shown } = entryText(
        row(sent),
        "current",
        "America/Chicago",
        new Map(),
      ) as Record<string, unknown>;
      expect(canonical(shown)).toBe(canonical({ ...sent, id: "e-7" }));
      expect(parsed(shown)).toEqual([{ ...sent, id: "e-7" }]);
    });
  });

  it("is decoded alike before it is kept and after", { timeout: PATIENCE }, () => {
    if (kind === "entry-amended" || kind === "entry-voided") return;
    property((sent) => {
      const frozen = { rate: 12.5, volume: 3 };
      const kept = recordedFrom(row(sent).text).body as PostedEntry;
      const decoded = decodeEntry(kept, frozen);
      expect(decoded).toEqual(decodeEntry(sent as PostedEntry, frozen));
      // A clear that nobody knows the time of counts from the earliest it can have been.
      const [from] = (sent.between as string[] | undefined) ?? [sent.at as string];
      expect(decoded).toMatchObject({ kind, at: readInstant(from!) });
    });
  });
});
