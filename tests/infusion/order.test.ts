/** The order of what is charted at one minute: ten ranks, and what stands outside them. */

import { describe, expect, it } from "vitest";
import type { Entry, EntryKind, Placed } from "../../src/infusion/entry.js";
import { inOrder } from "../../src/infusion/order.js";
import { at } from "./bedside.js";

const RANKS: readonly (readonly [string, readonly EntryKind[]])[] = [
  ["the admission", ["admitted"]],
  ["levels and totals read", ["bag-level-read", "total-read", "chamber-read"]],
  ["amounts and weights", ["intake-measured", "output-measured", "irrigant-instilled", "weight-measured"]],
  ["ends", ["secondary-ended", "bolus-stopped", "flow-stopped"]],
  ["take-downs and adjustments", ["bag-taken-down", "bag-adjusted"]],
  [
    "clears and disconnections",
    ["totals-reset", "therapy-changed", "chamber-emptied", "channel-disconnected", "line-removed"],
  ],
  ["lines placed", ["line-placed"]],
  ["channels connected", ["channel-connected"]],
  ["bags and chambers placed", ["bag-hung", "chamber-placed"]],
  ["pauses", ["flow-paused"]],
  ["resumes", ["flow-resumed"]],
  [
    "starts, rates and volumes to infuse",
    ["flow-started", "rate-changed", "volume-to-infuse-set", "secondary-started", "bolus-started"],
  ],
  ["the rest", ["delivery-lost", "variance-settled", "moved", "discharged"]],
];

/** Entries of those kinds about things that have nothing to do with each other, in order of recording. */
function charted(...kinds: (EntryKind | Partial<Entry>)[]): Placed[] {
  return kinds.map((given, i) => {
    const own = typeof given === "string" ? { kind: given } : given;
    const apart = {
      at: at("19:00"),
      channel: `pump-${i}`,
      bag: `bag-${i}`,
      line: `line-${i}`,
      volume: 5_000,
    };
    return { id: `e${i + 1}`, sequence: i + 1, source: "person", entry: { ...apart, ...own } as Entry };
  });
}

const kindsOf = (placed: readonly Placed[]): EntryKind[] => placed.map(({ entry }) => entry.kind);
const inWords = (...told: (EntryKind | Partial<Entry>)[]): EntryKind[] => kindsOf(inOrder(charted(...told)));

describe("at one minute", () => {
  for (const [i, [earlier, first]] of RANKS.entries()) {
    for (const [later, second] of RANKS.slice(i + 1)) {
      it(`${earlier} come before ${later}, whichever was typed first`, () => {
        for (const a of first) {
          for (const b of second) {
            expect(inWords(a, b)).toEqual([a, b]);
            expect(inWords(b, a)).toEqual([a, b]);
          }
        }
      });
    }
    it(`${earlier} stand among themselves as they were recorded`, () => {
      for (const a of first) for (const b of first) expect(inWords(a, b)).toEqual([a, b]);
    });
  }

  it("leaving the bedside stands among the ends", () => {
    expect(inWords("bag-taken-down", "away-started")).toEqual(["away-started", "bag-taken-down"]);
    expect(inWords("away-started", "weight-measured")).toEqual(["weight-measured", "away-started"]);
  });

  it("coming back stands among the rest", () => {
    expect(inWords("away-ended", "flow-started")).toEqual(["flow-started", "away-ended"]);
  });

  it("what was charted a minute earlier comes earlier, whatever it is", () => {
    expect(inWords("total-read", { kind: "flow-started", at: at("18:59") })).toEqual([
      "flow-started",
      "total-read",
    ]);
  });
});

describe("the order field", () => {
  it("decides before the rank, in both directions", () => {
    expect(inWords({ kind: "total-read", order: 1 }, "flow-started")).toEqual(["flow-started", "total-read"]);
    expect(inWords("total-read", { kind: "flow-started", order: -1 })).toEqual([
      "flow-started",
      "total-read",
    ]);
  });

  it("is 0 where nothing is said, and leaves the rank to decide where it is the same", () => {
    expect(inWords({ kind: "flow-started", order: 0 }, "flow-paused")).toEqual([
      "flow-paused",
      "flow-started",
    ]);
    expect(inWords({ kind: "flow-started", order: 7 }, { kind: "flow-paused", order: 7 })).toEqual([
      "flow-paused",
      "flow-started",
    ]);
  });

  it("decides before a bag's level looks for its hanging", () => {
    const level = { kind: "bag-level-read", bag: "b", order: -1 } as const;
    expect(inWords({ kind: "bag-hung", bag: "b" }, level)).toEqual(["bag-level-read", "bag-hung"]);
  });

  it("does not reach into another minute", () => {
    expect(inWords({ kind: "flow-started", order: 9 }, { kind: "flow-paused", at: at("19:01") })).toEqual([
      "flow-started",
      "flow-paused",
    ]);
  });
});

describe("a total read at a clear", () => {
  const pump = { channel: "pump-1" };
  const read = (volume: number, more: object = {}) => ({
    kind: "total-read" as const,
    ...pump,
    volume,
    ...more,
  });

  it.each(["totals-reset", "therapy-changed", "channel-disconnected"] as const)(
    "as 0 comes after %s, as 137.5 before it",
    (kind) => {
      expect(inWords(read(0), { kind, ...pump })).toEqual([kind, "total-read"]);
      expect(inWords({ kind, ...pump }, read(137_500))).toEqual(["total-read", kind]);
    },
  );

  it("as 137.5 and as 0 stand on both sides of it", () => {
    const found = inOrder(charted(read(0), { kind: "therapy-changed", ...pump }, read(137_500)));
    expect(found.map(({ id }) => id)).toEqual(["e3", "e2", "e1"]);
  });

  it("comes where its position says, whatever it reads", () => {
    const clear = { kind: "totals-reset", ...pump } as const;
    expect(inWords(read(0, { position: "before" }), clear)).toEqual(["total-read", "totals-reset"]);
    expect(inWords(read(2_000, { position: "after" }), clear)).toEqual(["totals-reset", "total-read"]);
  });

  it("as 0 comes before the clear of another channel", () => {
    expect(inWords({ kind: "totals-reset", channel: "pump-2" }, read(0))).toEqual([
      "total-read",
      "totals-reset",
    ]);
  });

  it("as 0 comes before a flow that starts at that minute", () => {
    expect(inWords({ kind: "flow-started", ...pump }, read(0), { kind: "totals-reset", ...pump })).toEqual([
      "totals-reset",
      "total-read",
      "flow-started",
    ]);
  });

  it("as 0, or as its position says, comes after the device is connected that begins at 0", () => {
    const connected = { kind: "channel-connected", ...pump } as const;
    expect(inWords(read(0), connected)).toEqual(["channel-connected", "total-read"]);
    expect(inWords(read(2_000, { position: "after" }), connected)).toEqual([
      "channel-connected",
      "total-read",
    ]);
  });

  it("comes after the secondary that clears it, if its position says so", () => {
    const secondary = { kind: "secondary-started", ...pump } as const;
    const found = inWords(read(0, { position: "after", total: "secondary" }), secondary);
    expect(found).toEqual(["secondary-started", "total-read"]);
  });
});

describe("a bag hung at that minute", () => {
  const hung = { kind: "bag-hung", bag: "b" } as const;

  it.each(["bag-level-read", "bag-adjusted"] as const)("comes before its %s", (kind) => {
    expect(inWords({ kind, bag: "b" }, hung)).toEqual(["bag-hung", kind]);
  });

  it("comes after the level and the adjustment of another bag", () => {
    expect(inWords(hung, { kind: "bag-adjusted", bag: "a" }, { kind: "bag-level-read", bag: "a" })).toEqual([
      "bag-level-read",
      "bag-adjusted",
      "bag-hung",
    ]);
  });

  it("is primed before it flows", () => {
    expect(inWords("flow-started", { kind: "bag-adjusted", bag: "b" }, hung)).toEqual([
      "bag-hung",
      "bag-adjusted",
      "flow-started",
    ]);
  });

  it("comes after it was taken down elsewhere", () => {
    expect(inWords(hung, { kind: "bag-taken-down", bag: "b" })).toEqual(["bag-taken-down", "bag-hung"]);
  });
});

describe("recording", () => {
  it("an amended entry keeps the place its original had among ties", () => {
    const [first, second, third] = charted("rate-changed", "flow-started", "rate-changed");
    expect(inOrder([second!, third!, first!]).map(({ id }) => id)).toEqual(["e1", "e2", "e3"]);
  });

  it("the ledger may hand the entries over in any order, and keeps its own list", () => {
    const told = charted("flow-started", "bag-hung", "total-read", "therapy-changed", "flow-paused");
    const expected = inOrder(told).map(({ id }) => id);
    expect(expected).toEqual(["e3", "e4", "e2", "e5", "e1"]);
    const handed = [...told].reverse();
    expect(inOrder(handed).map(({ id }) => id)).toEqual(expected);
    expect(handed.map(({ id }) => id)).toEqual(["e5", "e4", "e3", "e2", "e1"]);
  });
});
