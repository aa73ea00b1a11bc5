/** What is being recorded, and what is sent of it: answers that come ready in the ledger's own questions. */

import { describe, expect, it } from "vitest";
import type { Disagreement, Posted, TotalAtRisk } from "../../src/page/api/shapes.js";
import { confirmed, explained, hasAct, withRisksAnswered } from "../../src/page/record/answering.js";
import { changed, type Draft, doubtName, newDraft, riskName } from "../../src/page/record/draft.js";
import { enteredIn, type Field, lacking } from "../../src/page/record/form.js";
import { withAnswers, withIds } from "../../src/page/record/request.js";
import { VOLUME } from "../../src/page/words/typed.js";

const AT = "2026-03-04T14:00:00-06:00";
const CHANGE: Posted = { kind: "therapy-changed", at: AT, channel: "pump-1", id: "x.0" };

/** As the ledger asks: a reading to take, or the clear with a reason for leaving it. */
function risk(total: "primary" | "secondary"): TotalAtRisk {
  const left = (leaveUncaptured: object) => ({
    text: "It is left.",
    entries: [{ ...CHANGE, leaveUncaptured }],
    instead: ["#/entries/0"],
  });
  return {
    entry: "#/entries/0",
    at: AT,
    channel: "pump-1",
    total,
    expected: 544.2,
    lastReading: null,
    atRisk: 544.2,
    since: AT,
    answers: [
      {
        text: "Read it.",
        entries: [{ kind: "total-read", at: AT, channel: "pump-1", total, position: "before" }],
        fill: ["/0/volume"],
        instead: [],
      },
      { ...left({ reason: "unreadable" }), fill: [] },
      { ...left({ reason: "other" }), fill: ["/0/leaveUncaptured/text"] },
    ],
  } as TotalAtRisk;
}

const READING: Posted = {
  ...{ kind: "total-read", at: AT, channel: "pump-1", total: "primary", volume: 155, id: "x.0" },
};

const DOUBT = {
  entry: "#/entries/0",
  at: AT,
  channel: "pump-1",
  total: "primary",
  reading: 155,
  expected: 1550,
  difference: -1395,
  since: AT,
  reasons: [
    {
      kind: "digits",
      place: 1,
      tied: false,
      sentence: "155 may have been 1550.",
      entries: [{ ...READING, volume: 1550 }],
      fill: [],
      instead: ["#/entries/0"],
    },
    {
      kind: "clear-missing",
      place: 2,
      tied: false,
      sentence: "It may have been cleared.",
      entries: [{ kind: "totals-reset", at: AT, channel: "pump-1", totals: ["primary"] }],
      fill: [],
      instead: [],
    },
    {
      kind: "other-channel",
      place: 3,
      tied: false,
      sentence: "",
      entries: [],
      fill: [],
      instead: ["#/entries/0"],
    },
  ],
  answers: [
    { text: "It does.", entries: [{ ...READING, confirmed: true }], fill: [], instead: ["#/entries/0"] },
  ],
} as unknown as Disagreement;

const draft = newDraft("x", {});
const answering = (question: TotalAtRisk, choice: number, pointer: string, text: string): Draft =>
  [
    { do: "answer", question: riskName(question), choice } as const,
    { do: "fill", question: riskName(question), pointer, text } as const,
  ].reduce(changed, draft);

describe("a total that would be lost", () => {
  it("waits for its reading, which stands before the clear in one request", () => {
    expect(withRisksAnswered([CHANGE], [risk("primary")], draft, ".")).toBeNull();
    const read = answering(risk("primary"), 0, "/0/volume", "545.5");
    expect(withRisksAnswered([CHANGE], [risk("primary")], read, ".")).toEqual([
      {
        kind: "total-read",
        at: AT,
        channel: "pump-1",
        total: "primary",
        position: "before",
        volume: 545.5,
        id: "x.a.0",
      },
      CHANGE,
    ]);
  });

  it("is left unread for a reason, in words where it is another", () => {
    const unreadable = changed(draft, { do: "answer", question: riskName(risk("primary")), choice: 1 });
    expect(withRisksAnswered([CHANGE], [risk("primary")], unreadable, ".")).toEqual([
      { ...CHANGE, leaveUncaptured: { reason: "unreadable" } },
    ]);
    const other = answering(risk("primary"), 2, "/0/leaveUncaptured/text", "The pump fell.");
    expect(withRisksAnswered([CHANGE], [risk("primary")], other, ".")).toEqual([
      { ...CHANGE, leaveUncaptured: { reason: "other", text: "The pump fell." } },
    ]);
    const silent = answering(risk("primary"), 2, "/0/leaveUncaptured/text", "  ");
    expect(withRisksAnswered([CHANGE], [risk("primary")], silent, ".")).toBeNull();
  });

  it("of two totals is sent with one clear, one read and one left", () => {
    const both = [
      { do: "answer", question: riskName(risk("secondary")), choice: 1 } as const,
      { do: "fill", question: riskName(risk("primary")), pointer: "/0/volume", text: "545" } as const,
    ].reduce(changed, draft);
    const sent = withRisksAnswered([CHANGE], [risk("primary"), risk("secondary")], both, ".");
    expect(sent?.map(({ kind }) => kind)).toEqual(["total-read", "therapy-changed"]);
    const left = (["primary", "secondary"] as const)
      .map((total) => ({ do: "answer", question: riskName(risk(total)), choice: 1 }) as const)
      .reduce(changed, draft);
    expect(withRisksAnswered([CHANGE], [risk("primary"), risk("secondary")], left, ".")).toHaveLength(1);
  });

  it("keeps what was typed when it is asked again, as of another time", () => {
    const read = answering(risk("primary"), 0, "/0/volume", "545");
    const earlier = changed(read, { do: "time", time: { ago: 10, held: null } });
    expect(earlier.answers).toEqual(read.answers);
  });
});

describe("a reading that disagrees", () => {
  const secondLook = { request: [READING], disagreements: [DOUBT] };
  const looking = changed(draft, { do: "doubted", secondLook });
  const choosing = (choice: number) => changed(looking, { do: "answer", question: doubtName(DOUBT), choice });

  it("is confirmed as it is", () => {
    expect(confirmed(secondLook)).toEqual([{ ...READING, confirmed: true }]);
  });

  it("is explained by another entry beside it, or by itself put right", () => {
    expect(explained(secondLook, looking, ".")).toBeNull();
    expect(explained(secondLook, choosing(0), ".")).toEqual([{ ...READING, volume: 1550 }]);
    expect(explained(secondLook, choosing(1), ".")).toEqual([
      { kind: "totals-reset", at: AT, channel: "pump-1", totals: ["primary"], id: "x.b.0" },
      READING,
    ]);
  });

  it("has no act where nothing would be left to send", () => {
    expect(DOUBT.reasons.map((reason) => hasAct(secondLook, reason))).toEqual([true, true, false]);
  });

  it("is looked at anew once another number is typed, and not once it was answered", () => {
    expect(choosing(0).secondLook).toBe(secondLook);
    const again = changed(choosing(0), { do: "put", field: "primary", text: "1550" });
    expect(again).toMatchObject({ secondLook: null, answers: {}, values: { primary: "1550" } });
    expect(changed(looking, { do: "back" }).secondLook).toBeNull();
  });
});

describe("what is sent", () => {
  it("has ids of its own, the same however often it is sent", () => {
    const { id: _, ...bare } = CHANGE;
    expect(withIds([bare as Posted, { ...READING, id: "mine" }], "b").map(({ id }) => id)).toEqual([
      "b.0",
      "mine",
    ]);
  });

  it("is held at the time it was sent as of", () => {
    expect(changed(draft, { do: "sent", at: AT }).time).toEqual({ ago: 0, held: AT });
    const exact = { date: "2026-03-04", typed: "14:00", which: null };
    const chosen = changed(draft, { do: "time", time: exact });
    expect(changed(chosen, { do: "sent", at: AT }).time).toEqual(exact);
  });

  it("leaves answers out of what they were made of", () => {
    const ready = risk("primary").answers[0]!;
    withAnswers([CHANGE], [{ ready, values: { "/0/volume": 1 } }]);
    expect(ready.entries[0]).not.toHaveProperty("volume");
  });
});

describe("a form", () => {
  const number: Field = { is: "number", key: "rate", label: "", unit: "mL/h", limits: VOLUME, zero: false };
  const lacks = (field: Field, text: string) => lacking([field], { [field.key]: text }, ".").length > 0;

  it("lacks a number that is not there, or is nothing where nothing is none", () => {
    expect(lacks(number, "")).toBe(true);
    expect(lacks(number, "0")).toBe(true);
    expect(lacks({ ...number, zero: true }, "0")).toBe(false);
    expect(lacks({ ...number, optional: true }, "")).toBe(false);
    expect(lacks({ ...number, optional: true }, "0")).toBe(true);
    expect(lacks({ is: "text", key: "why", label: "" }, "  ")).toBe(true);
  });

  it("leaves out what is no longer asked for", () => {
    const entered = enteredIn([number], { rate: "62,5", volume: "100" }, ",");
    expect([entered.number("rate"), entered.number("volume")]).toEqual([62.5, null]);
  });
});
