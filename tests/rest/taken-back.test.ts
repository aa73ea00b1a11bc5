/** What people said by requests of their own: an acknowledgement can be taken back, a signature is never void. */

import { describe, expect, test } from "vitest";
import { at, SALINE, Ward } from "./ward.js";

// biome-ignore lint/suspicious/noExplicitAny: answers are JSON, read by the field a test is about
type Json = any;

const STAY_1 = "/v1/encounters/stay-1";

/** A rate charted hours late, which is found; it is 14:00. */
async function charted(): Promise<{ ward: Ward; finding: string }> {
  const ward = await Ward.open();
  await ward.record(SALINE);
  const { findings } = (await ward.get(`${STAY_1}/findings`)).body;
  return { ward, finding: findings.find(({ code }: Json) => code === "late-entry").id };
}

async function acknowledge(ward: Ward, finding: string, reason: string): Promise<Json> {
  const url = `${STAY_1}/findings/${finding}/acknowledgement`;
  return (await ward.done("POST", url, { body: { reason } })).body;
}

async function stateOf(ward: Ward, finding: string, query = ""): Promise<Json> {
  const { findings } = (await ward.get(`${STAY_1}/findings?state=all${query}`)).body;
  const { state, acknowledged } = findings.find(({ id }: Json) => id === finding);
  return [state, acknowledged?.reason];
}

const voiding = (entry: string, id?: string) => ({
  ...(id === undefined ? {} : { id }),
  kind: "entry-voided",
  entry,
  reason: "It was another finding that was meant.",
});

describe("an acknowledgement", () => {
  test("says where the chain ends, and which entry it is", async () => {
    const { ward, finding } = await charted();
    const { ledger, acknowledged } = await acknowledge(ward, finding, "After a transport.");
    expect(ledger).toEqual((await ward.get(STAY_1)).body.ledger);
    const { body } = await ward.get(`${STAY_1}/entries/${acknowledged.entry}`);
    expect([body.kind, body.finding]).toEqual(["finding-acknowledged", finding]);
  });

  test("is undone by a void, and holds again when the void is void; the one before it holds meanwhile", async () => {
    const { ward, finding } = await charted();
    const first = await acknowledge(ward, finding, "After a transport.");
    const again = await acknowledge(ward, finding, "It was a busy night.");
    expect(await stateOf(ward, finding)).toEqual(["acknowledged", "It was a busy night."]);
    expect((await ward.record([voiding(again.acknowledged.entry)])).status).toBe(201);
    expect(await stateOf(ward, finding)).toEqual(["acknowledged", "After a transport."]);
    const { ledger } = (await ward.record([voiding(first.acknowledged.entry, "void-1")])).body;
    expect(await stateOf(ward, finding)).toEqual(["open", undefined]);
    expect((await ward.record([voiding("void-1")])).status).toBe(201);
    expect(await stateOf(ward, finding)).toEqual(["acknowledged", "After a transport."]);
    expect(await stateOf(ward, finding, `&asOf=${ledger.sequence}`)).toEqual(["open", undefined]);
  });

  test("is not amended, nor taken back by a device", async () => {
    const { ward, finding } = await charted();
    const { acknowledged } = await acknowledge(ward, finding, "After a transport.");
    const replacement = {
      kind: "total-read",
      at: at("12:00"),
      channel: "pump-1",
      total: "primary",
      volume: 1,
    };
    const amended = { kind: "entry-amended", entry: acknowledged.entry, reason: "Wrong.", replacement };
    const { body } = await ward.record([amended]);
    expect(body.errors).toMatchObject([{ pointer: "#/entries/0/entry", code: "not-correctable" }]);
    expect(body.errors[0].detail).toContain("acknowledge the finding again");
    expect((await ward.record([voiding(acknowledged.entry)], { as: "device" })).status).toBe(403);
  });

  test.each([" . ", "ok", "12:00, 3 x", "-?!"])("says why: %j does not", async (reason) => {
    const { ward, finding } = await charted();
    const url = `${STAY_1}/findings/${finding}/acknowledgement`;
    expect((await ward.ask("POST", url, { body: { reason } })).status).toBe(422);
  });
});

describe("a signature", () => {
  const SHIFT = `${STAY_1}/shifts/2026-03-04/day`;

  async function toSign(): Promise<{ ward: Ward; sign: (remark: string) => Promise<Json> }> {
    const { ward } = await charted();
    const { digest, to } = (await ward.get(SHIFT)).body.toSign;
    return {
      ward,
      sign: (remark) => ward.ask("POST", `${SHIFT}/signature`, { body: { digest, to, remark } }),
    };
  }

  test("is not void, and who tries is told what to do instead", async () => {
    const { ward, sign } = await toSign();
    const { id } = (await sign("Handed over.")).body;
    const { body } = await ward.record([voiding(id)]);
    expect(body.errors).toMatchObject([{ pointer: "#/entries/0/entry", code: "not-correctable" }]);
    expect(body.errors[0].detail).toContain("a later one stands for it");
  });

  test.each([" . ", "ok", "1234"])("has no remark that says nothing: %j", async (remark) => {
    const { sign } = await toSign();
    const { status, body } = await sign(remark);
    expect([status, body.errors]).toMatchObject([422, [{ pointer: "#/remark", code: "wrong-form" }]]);
  });

  test.each(["yes", "漏液", "Видел", "הכל בסדר", "누출"])("has one of any script: %j", async (remark) => {
    const { sign } = await toSign();
    expect((await sign(remark)).status).toBe(201);
  });
});
