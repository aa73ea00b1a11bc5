/** Questions and findings over HTTP: what is asked, what is recorded unasked, what a person has seen. */

import { describe, expect, it } from "vitest";
import { ReadingDisagrees, TotalsAtRisk } from "../../src/wire/answers/problems.js";
import { parse } from "../../src/wire/parse.js";
import { at, ENTRIES, SALINE, Ward } from "./ward.js";

const FINDINGS = "/v1/encounters/stay-1/findings";

const read = (clock: string, volume: number, more: object = {}) => ({
  kind: "total-read",
  at: at(clock),
  channel: "pump-1",
  total: "primary",
  volume,
  ...more,
});
const therapy = (clock: string, more: object = {}) => ({
  id: "therapy",
  kind: "therapy-changed",
  at: at(clock),
  channel: "pump-1",
  ...more,
});

/** 75 mL/h since 07:00, read at 09:10. */
async function running(): Promise<Ward> {
  const ward = await Ward.open();
  await ward.record([...SALINE, read("09:10", 162.5, { id: "read" })]);
  return ward;
}

/** The same, with 137.5 mL forgotten at 11:00 and nobody asked. */
async function lost(): Promise<Ward> {
  const ward = await running();
  await ward.record([therapy("11:00")], { query: "?queued=true" });
  return ward;
}

const LOST = "totals-lost~pump-1~therapy";

async function listed(ward: Ward, state: string): Promise<string[]> {
  const { body } = await ward.get(`${FINDINGS}?state=${state}`);
  return body.findings
    .filter(({ code }: { code: string }) => !["late-entry", "shift-unsigned"].includes(code))
    .map(({ id, state }: { id: string; state: string }) => `${id} ${state}`);
}

const acknowledge = (ward: Ward, finding: string, headers: Record<string, string> = {}) =>
  ward.ask("POST", `${FINDINGS}/${finding}/acknowledgement`, {
    body: { reason: "The pump had gone to theatre." },
    headers,
  });

describe("a change of therapy with 137.5 mL that nobody wrote down", () => {
  it("is asked about, as a problem that says what would be lost and what answers it", async () => {
    const ward = await running();
    const answer = await ward.record([therapy("11:00")]);
    expect([answer.status, answer.headers["content-type"]]).toEqual([
      409,
      "application/problem+json; charset=utf-8",
    ]);
    expect(answer.body).toMatchObject({
      type: "/problems/totals-at-risk",
      status: 409,
      detail: "pump-1 would forget 137.5 mL of the primary that nobody has written down since 09:10.",
      atRisk: [
        {
          entry: "#/entries/0",
          channel: "pump-1",
          total: "primary",
          expected: 300,
          lastReading: 162.5,
          atRisk: 137.5,
          since: at("09:10"),
        },
      ],
    });
    expect(parse(TotalsAtRisk, answer.body).faults).toBeUndefined();
    expect((await ward.get(`${ENTRIES}/therapy`)).status).toBe(404);
  });

  it("is recorded together with the reading that the answer proposes", async () => {
    const ward = await running();
    const { body } = await ward.record([therapy("11:00")]);
    const [reading] = body.atRisk[0].answers;
    expect(reading.fill).toEqual(["/0/volume"]);
    const answer = await ward.record([{ ...reading.entries[0], volume: 301 }, therapy("11:00")]);
    expect([answer.status, answer.body.findings]).toEqual([201, []]);
  });

  it("is recorded with a reason for leaving it, and the reason is shown", async () => {
    const ward = await running();
    const { body } = await ward.record([therapy("11:00")]);
    const gone = body.atRisk[0].answers.find(({ text }: { text: string }) => text.includes("not here"));
    expect((await ward.record(gone.entries)).status).toBe(201);
    const { body: entry } = await ward.get(`${ENTRIES}/therapy`);
    expect(entry.leaveUncaptured).toEqual({ reason: "device-gone" });
    expect(await listed(ward, "open")).toEqual([`${LOST} open`]);
  });

  it("is recorded unasked when written down without a connection, and the loss is raised in the answer", async () => {
    const ward = await running();
    const answer = await ward.record([therapy("11:00")], { query: "?queued=true" });
    expect(answer.status).toBe(201);
    expect(answer.body.findings).toMatchObject([{ id: LOST, severity: "attention", state: "open" }]);
  });

  it("is recorded unasked from a device, and the loss is told to those who read", async () => {
    const ward = await running();
    const answer = await ward.record([therapy("11:00")], { as: "device" });
    expect([answer.status, answer.body.findings]).toEqual([201, undefined]);
    expect(await listed(ward, "open")).toEqual([`${LOST} open`]);
  });

  it("is asked about by a dry run as well, which records nothing", async () => {
    const ward = await running();
    const before = (await ward.get("/v1/encounters/stay-1")).headers.etag;
    const asked = await ward.record([therapy("11:00")], { query: "?dryRun=true" });
    expect([asked.status, asked.body.type]).toEqual([409, "/problems/totals-at-risk"]);
    const reason = { leaveUncaptured: { reason: "unreadable" } };
    const told = await ward.record([therapy("11:00", reason)], { query: "?dryRun=true" });
    expect([told.status, told.body.findings[0].id]).toEqual([200, LOST]);
    expect((await ward.get("/v1/encounters/stay-1")).headers.etag).toBe(before);
  });

  it("is judged after form and sense: a fault of the request is told first", async () => {
    const ward = await running();
    const senseless = { kind: "entry-voided", entry: "nothing", reason: "Wrong patient." };
    const answer = await ward.record([therapy("11:00"), senseless]);
    expect([answer.status, answer.body.type]).toEqual([422, "/problems/invalid-entries"]);
  });
});

describe("a reading that disagrees", () => {
  it("is asked about with its likely reasons, and taken when it is confirmed", async () => {
    const ward = await running();
    const { status, body } = await ward.record([read("11:00", 330)]);
    expect([status, body.type]).toEqual([409, "/problems/reading-disagrees"]);
    expect(parse(ReadingDisagrees, body).faults).toBeUndefined();
    const [doubt] = body.disagreements;
    expect(doubt).toMatchObject({ entry: "#/entries/0", reading: 330, expected: 300, difference: 30 });
    // 330 for 303, and 100 mL/h since 09:45, fit equally well; a reason that shares its place says so.
    expect(doubt.reasons.filter(({ place }: { place: number }) => place === 1)).toMatchObject([
      { kind: "digits", tied: true },
      { kind: "rate-change-missing", tied: true },
    ]);
    const confirmed = await ward.record(doubt.answers[0].entries);
    expect([confirmed.status, confirmed.body.findings[0].code]).toEqual([201, "reading-disagrees"]);
  });

  it("stands beside the clears of the same request, in one answer", async () => {
    const ward = await running();
    const second = { channel: "pump-2", line: "forearm" };
    await ward.record([
      { ...SALINE[1], ...second, id: "pump-2" },
      { ...SALINE[2], ...second, id: "bag-2", bag: "saline-2", line: undefined },
      { ...SALINE[3], channel: "pump-2", id: "start-2" },
    ]);
    const { body } = await ward.record([read("11:00", 400, { channel: "pump-2" }), therapy("11:00")]);
    expect([body.type, body.atRisk[0].entry, body.disagreements[0].entry]).toEqual([
      "/problems/totals-at-risk",
      "#/entries/1",
      "#/entries/0",
    ]);
  });
});

describe("a finding that a person acknowledges", () => {
  it("leaves the open ones, with who saw it, why it may stand, and what it said then", async () => {
    const ward = await lost();
    const answer = await acknowledge(ward, LOST);
    expect(answer.status).toBe(201);
    expect(answer.body).toMatchObject({
      id: LOST,
      state: "acknowledged",
      acknowledged: {
        at: at("14:00"),
        by: { id: "nurse", role: "nurse" },
        reason: "The pump had gone to theatre.",
        sentence:
          "The primary total of pump-1 was cleared at 11:00 with 137.5 mL not written down since 09:10: that volume is computed only.",
      },
    });
    expect(await listed(ward, "open")).toEqual([]);
    expect(await listed(ward, "acknowledged")).toEqual([`${LOST} acknowledged`]);
  });

  it("stays acknowledged while it grows by no more than the chart tolerance, and is open again beyond it", async () => {
    const ward = await lost();
    await acknowledge(ward, LOST);
    const earlier = (clock: string, volume: number) => ({
      kind: "entry-amended",
      entry: "read",
      reason: "Read earlier.",
      replacement: read(clock, volume),
    });
    // 8 min of 75 mL/h more are 10, 9 min are 11.25.
    await ward.record([earlier("09:02", 152.5)]);
    expect(await listed(ward, "all")).toEqual([`${LOST} acknowledged`]);
    await ward.record([earlier("09:01", 151.25)]);
    expect(await listed(ward, "all")).toEqual([`${LOST} open`]);
  });

  it("is told as settled once it is found no more, and is acknowledged again when it is back", async () => {
    const ward = await lost();
    await acknowledge(ward, LOST);
    await ward.record([read("11:00", 300, { id: "late" })]);
    expect([await listed(ward, "all"), await listed(ward, "settled")]).toEqual([
      [`${LOST} settled`],
      [`${LOST} settled`],
    ]);
    const wrong = { kind: "entry-voided", entry: "late", reason: "Another pump's." };
    expect((await ward.record([wrong])).body.findings).toMatchObject([{ id: LOST, state: "acknowledged" }]);
    expect(await listed(ward, "all")).toEqual([`${LOST} acknowledged`]);
    // Void already, it changes nothing when it is made void once more.
    expect((await ward.record([wrong])).body.findings).toEqual([]);
  });

  it("is there under an id of any length", async () => {
    const ward = await Ward.open();
    const channel = "c".repeat(64);
    const id = "e".repeat(64);
    await ward.record([
      SALINE[0],
      { ...SALINE[1], channel },
      { ...SALINE[2], channel },
      { ...SALINE[3], channel },
    ]);
    await ward.record([therapy("11:00", { id, channel })], { query: "?queued=true" });
    expect((await acknowledge(ward, `totals-lost~${channel}~${id}`)).status).toBe(201);
  });
});

describe("an acknowledgement", () => {
  it("of a finding that is not there is 404", async () => {
    const ward = await running();
    const answer = await acknowledge(ward, LOST);
    expect([answer.status, answer.body.type]).toEqual([404, "/problems/not-found"]);
  });

  it("sent again with its key is the same one, not a second", async () => {
    const ward = await lost();
    const key = { "idempotency-key": '"seen-1"' };
    const [first, again] = [await acknowledge(ward, LOST, key), await acknowledge(ward, LOST, key)];
    expect([again.status, again.body, again.headers.etag]).toEqual([201, first.body, first.headers.etag]);
    const { body } = await ward.get(`${ENTRIES}?kind=finding-acknowledged`);
    expect(body.entries).toHaveLength(1);
  });

  it("is a person's: a device or a reader may not", async () => {
    const ward = await lost();
    for (const as of ["device", "integration"]) {
      const asking = { as, body: { reason: "Seen." } };
      const answer = await ward.ask("POST", `${FINDINGS}/${LOST}/acknowledgement`, asking);
      expect([as, answer.status]).toEqual([as, 403]);
    }
  });

  it("gives its reason", async () => {
    const ward = await lost();
    const answer = await ward.ask("POST", `${FINDINGS}/${LOST}/acknowledgement`, { body: {} });
    expect([answer.status, answer.body.errors[0].pointer]).toEqual([422, "#/reason"]);
  });
});
