/** A shift in one answer, its signature and what happens to it, through REST. */

import { describe, expect, test } from "vitest";
import { at, SALINE, Ward } from "./ward.js";

// biome-ignore lint/suspicious/noExplicitAny: answers are JSON, read by the field a test is about
type Json = any;

const SHIFT = "/v1/encounters/stay-1/shifts/2026-03-04/day";

/** 75 mL/h since 07:00, and it is the time told. */
async function running(clock: string): Promise<Ward> {
  const ward = await Ward.open();
  expect((await ward.record(SALINE)).status).toBe(201);
  ward.itIs(clock);
  return ward;
}

async function shiftOf(ward: Ward, query = ""): Promise<Json> {
  const { body, status } = await ward.get(SHIFT + query);
  expect(status, JSON.stringify(body)).toBe(200);
  return body;
}

/** Signs what there is to sign, as it is. */
async function signed(ward: Ward, more: object = {}): Promise<Json> {
  const { toSign } = await shiftOf(ward);
  const { digest, to } = toSign;
  const { body, status } = await ward.ask("POST", `${SHIFT}/signature`, { body: { digest, to, ...more } });
  expect(status, JSON.stringify(body)).toBe(201);
  return body;
}

const read = (clock: string, volume: number, id: string, more: object = {}) => ({
  id,
  kind: "total-read",
  at: at(clock),
  channel: "pump-1",
  total: "primary",
  volume,
  ...more,
});
const rate = (clock: string, mLPerHour: number, id: string) => ({
  id,
  kind: "rate-changed",
  at: at(clock),
  channel: "pump-1",
  rate: mLPerHour,
});
const urine = (clock: string, volume: number, id: string) => ({
  id,
  kind: "output-measured",
  at: at(clock),
  category: "urine",
  volume,
});

const hours = ({ volumes }: Json) => volumes.rows[0].volumes;

describe("a shift in one answer", () => {
  test("says what was delivered, what is to be signed, and what it stands at", async () => {
    const ward = await running("19:10");
    const shift = await shiftOf(ward);
    expect(shift).toMatchObject({
      shift: "2026-03-04/day",
      label: "Day",
      start: at("07:00"),
      end: at("19:00"),
      state: "preliminary",
      signatures: [],
      toSign: { from: at("07:00"), to: at("19:00") },
    });
    expect(hours(shift)).toEqual(Array(12).fill(75));
    expect(shift.balance.netTotal).toBe(900);
    expect(shift.totals.channels[0].totals[0].expected).toBe(900);
  });

  test("is not there of a day on which there was no stay, nor of a name no shift has", async () => {
    const ward = await running("19:10");
    for (const path of ["2026-03-01/day", "2026-03-04/late", "9999-03-04/day", "x/y"]) {
      const { status, body } = await ward.get(`/v1/encounters/stay-1/shifts/${path}`);
      expect([path, status, body.type]).toEqual([path, 404, "/problems/not-found"]);
    }
  });
});

describe("signing", () => {
  test("makes figures final, and is an entry of the chain", async () => {
    const ward = await running("19:10");
    const answer = await signed(ward, { to: undefined });
    expect(answer).toMatchObject({
      from: at("07:00"),
      to: at("19:00"),
      state: "final",
      by: { id: "nurse", role: "nurse" },
      calculation: "1",
    });
    const shift = await shiftOf(ward);
    expect(shift).toMatchObject({ state: "final", toSign: null });
    expect(shift.signatures).toMatchObject([{ state: "final", differences: [], by: { id: "nurse" } }]);
    const { body } = await ward.get("/v1/encounters/stay-1/entries?kind=shift-signed");
    expect(body.entries).toMatchObject([{ kind: "shift-signed", shift: "2026-03-04/day", at: at("19:00") }]);
    expect(body.entries[0].figures.rows).toContainEqual({
      of: "volume",
      key: "forearm",
      label: "Left forearm",
      values: Array(12).fill(75),
    });
  });

  test("tiles a running shift; the digest is of the span", async () => {
    const ward = await running("11:00");
    const first = await signed(ward);
    expect(first).toMatchObject({ from: at("07:00"), to: at("11:00"), state: "preliminary" });
    ward.itIs("19:30");
    const second = await signed(ward);
    expect(second).toMatchObject({ from: at("11:00"), to: at("19:00"), state: "final" });
    expect(second.digest).not.toBe(first.digest);
  });

  test("needs to be told up to when in a running shift, and never further than it has come", async () => {
    const ward = await running("11:00");
    const { toSign } = await shiftOf(ward);
    const post = (body: object) => ward.ask("POST", `${SHIFT}/signature`, { body });
    const { digest } = toSign;
    const codes = async (body: object) => (await post(body)).body.errors.map(({ code }: Json) => code);
    expect(await codes({ digest })).toEqual(["required"]);
    expect(await codes({ digest, to: at("11:01") })).toEqual(["too-far-ahead"]);
    expect(await codes({ digest, to: at("07:00") })).toEqual(["inconsistent"]);
    expect(await codes({ digest: "no", to: at("11:00") })).toEqual(["wrong-form"]);
    await signed(ward);
    expect(await codes({ digest, to: at("11:00") })).toEqual(["inconsistent"]);
  });

  test("is refused where the figures are not those that were looked at, with what differs", async () => {
    const ward = await running("19:10");
    const { toSign } = await shiftOf(ward);
    await ward.record([rate("10:00", 100, "rate-1")]);
    const { status, body } = await ward.ask("POST", `${SHIFT}/signature`, {
      body: { digest: toSign.digest },
    });
    expect([status, body.type]).toEqual([409, "/problems/digest-changed"]);
    expect(body.digest).toBe((await shiftOf(ward)).toSign.digest);
    expect(body.differences).toContainEqual({
      row: { of: "volume", key: "forearm", label: "Left forearm" },
      start: at("10:00"),
      end: at("11:00"),
      seen: 75,
      now: 100,
    });
    expect((await shiftOf(ward)).signatures).toEqual([]);
  });

  test("needs a remark while a question is open, and keeps what was open", async () => {
    const ward = await running("19:10");
    await ward.record([read("11:00", 390, "read-1")], { as: "device" });
    const { toSign, openQuestions } = await shiftOf(ward);
    expect(openQuestions).toHaveLength(1);
    const { digest } = toSign;
    const refused = await ward.ask("POST", `${SHIFT}/signature`, { body: { digest } });
    expect([refused.status, refused.body.type]).toEqual([409, "/problems/questions-open"]);
    expect(refused.body.questions.map(({ id }: Json) => id)).toEqual(openQuestions);
    const answer = await signed(ward, { remark: "The device was exchanged." });
    expect(answer.remark).toBe("The device was exchanged.");
    expect(answer.open.map(({ finding }: Json) => finding)).toContain(openQuestions[0]);
  });

  test("is for the bedside alone, and once per Idempotency-Key", async () => {
    const ward = await running("19:10");
    const { toSign } = await shiftOf(ward);
    const body = { digest: toSign.digest };
    for (const as of ["integration", "device", "administrator"]) {
      expect((await ward.ask("POST", `${SHIFT}/signature`, { as, body })).status).toBe(403);
    }
    const headers = { "idempotency-key": "sign-1" };
    const [one, again] = [
      await ward.ask("POST", `${SHIFT}/signature`, { body, headers }),
      await ward.ask("POST", `${SHIFT}/signature`, { body, headers }),
    ];
    expect([one.status, again.status, again.text]).toEqual([201, 201, one.text]);
    expect((await shiftOf(ward)).signatures).toHaveLength(1);
  });
});

describe("what is recorded after a signature", () => {
  test("leaves the figures as they are where it is a reading, and says the rest afterwards", async () => {
    const ward = await running("19:10");
    await signed(ward);
    ward.itIs("20:30");
    await ward.record([read("18:00", 800, "late", { confirmed: true })]);
    const shift = await shiftOf(ward);
    expect(shift.state).toBe("final");
    expect(hours(shift)).toEqual(Array(12).fill(75));
  });

  test("corrects them where it happened otherwise, figure by figure with its cause, until signed again", async () => {
    const ward = await running("19:10");
    await ward.record([urine("12:30", 200, "urine-1")]);
    await signed(ward);
    ward.itIs("20:30");
    await ward.record([rate("18:00", 100, "rate-1"), rate("19:30", 50, "rate-2")]);
    await ward.record([
      { kind: "entry-voided", id: "void-1", entry: "urine-1", reason: "Another patient's." },
    ]);
    const shift = await shiftOf(ward);
    expect(shift).toMatchObject({ state: "corrected", toSign: { from: at("07:00"), to: at("19:00") } });
    const [signature] = shift.signatures;
    expect(signature.state).toBe("corrected");
    const ofHour = (clock: string) => signature.differences.filter(({ start }: Json) => start === at(clock));
    expect(ofHour("18:00")).toMatchObject([
      { row: { of: "volume", key: "forearm" }, signed: 75, now: 100, causes: ["rate-1"] },
      { row: { of: "intake", key: "iv-fluid" }, signed: 75, now: 100, causes: ["rate-1"] },
      { row: { of: "net" }, signed: 75, now: 100, causes: ["rate-1"] },
    ]);
    expect(ofHour("12:00")).toMatchObject([
      { row: { of: "output", key: "urine" }, signed: 200, now: 0, causes: ["void-1"] },
      { row: { of: "net" }, signed: -125, now: 75, causes: ["void-1"] },
    ]);
    expect(signature.differences).toHaveLength(5);
    const { body } = await ward.get("/v1/encounters/stay-1/findings");
    const changed = body.findings.filter(({ code }: Json) => code === "signed-shift-changed");
    expect(changed).toMatchObject([
      { concerns: { shift: "2026-03-04/day", entries: [signature.id] }, severity: "attention" },
    ]);
    await signed(ward);
    const again = await shiftOf(ward);
    expect(again.state).toBe("final");
    expect(again.signatures.map(({ state }: Json) => state)).toEqual(["replaced", "final"]);
  });

  test("asks for the signature two hours after the end", async () => {
    const ward = await running("20:59");
    const codes = async () =>
      (await ward.get("/v1/encounters/stay-1/findings")).body.findings
        .filter(({ code }: Json) => code === "shift-unsigned")
        .map(({ concerns }: Json) => [concerns.shift, concerns.start]);
    expect(await codes()).not.toContainEqual(["2026-03-04/day", at("07:00")]);
    ward.itIs("21:00");
    expect(await codes()).toContainEqual(["2026-03-04/day", at("07:00")]);
    await signed(ward);
    expect(await codes()).not.toContainEqual(["2026-03-04/day", at("07:00")]);
  });

  test("an answer as of before the signature knows nothing of it", async () => {
    const ward = await running("19:10");
    const before = await shiftOf(ward);
    await signed(ward);
    const query = `?asOf=${before.asOf.sequence}&until=${encodeURIComponent(before.until)}`;
    expect(await shiftOf(ward, query)).toEqual(before);
  });
});

describe("what changed between two moments", () => {
  const CHANGES = "/v1/encounters/stay-1/changes";

  test("are the entries, and the figures they moved with their causes", async () => {
    const ward = await running("14:00");
    const { asOf } = await shiftOf(ward);
    await ward.record([rate("10:00", 100, "rate-1")]);
    await ward.record([urine("11:30", 250, "urine-1")]);
    const { body } = await ward.get(`${CHANGES}?since=${asOf.sequence}`);
    expect(body.entries.map(({ id }: Json) => id)).toEqual(["rate-1", "urine-1"]);
    expect(body.since.sequence).toBe(asOf.sequence);
    const at11 = body.figures.filter(({ start }: Json) => start === at("11:00"));
    expect(at11).toMatchObject([
      { row: { of: "volume", key: "forearm" }, before: 75, after: 100, causes: ["rate-1"] },
      { row: { of: "intake", key: "iv-fluid" }, before: 75, after: 100, causes: ["rate-1"] },
      { row: { of: "output", key: "urine" }, before: 0, after: 250, causes: ["urine-1"] },
      { row: { of: "net" }, before: 75, after: -150, causes: ["rate-1", "urine-1"] },
    ]);
  });

  test("are none by time alone, and none of what comes after the second moment", async () => {
    const ward = await running("14:00");
    const { asOf } = await shiftOf(ward);
    ward.itIs("16:00");
    const none = (await ward.get(`${CHANGES}?since=${asOf.sequence}`)).body;
    expect([none.entries, none.figures]).toEqual([[], []]);
    await ward.record([rate("10:00", 100, "rate-1")]);
    const still = (await ward.get(`${CHANGES}?since=${asOf.sequence}&asOf=${asOf.sequence}`)).body;
    expect([still.entries, still.figures]).toEqual([[], []]);
  });

  test("of a void are told from where what it voids had moved figures", async () => {
    const ward = await running("14:00");
    await ward.record([rate("08:00", 100, "rate-1")]);
    const since = at("14:00").replace("+", "%2B");
    ward.itIs("23:00");
    await ward.record([{ kind: "entry-voided", id: "void-1", entry: "rate-1", reason: "Not done." }]);
    const { body } = await ward.get(`${CHANGES}?since=${since}`);
    expect(body.figures[0]).toMatchObject({ start: at("08:00"), before: 100, after: 75, causes: ["void-1"] });
  });

  test("need an earlier moment that was there", async () => {
    const ward = await running("14:00");
    const codes = async (query: string) =>
      (await ward.get(CHANGES + query)).body.errors.map(({ parameter, code }: Json) => [parameter, code]);
    expect(await codes("")).toEqual([["since", "required"]]);
    expect(await codes("?since=99")).toEqual([["since", "beyond-the-head"]]);
    expect(await codes("?since=3&asOf=2")).toEqual([["since", "inconsistent"]]);
  });
});
