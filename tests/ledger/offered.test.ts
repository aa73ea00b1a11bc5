/** What is offered to settle a finding, posted as it is offered, settles it: an amendment holds what was proposed. */

import { describe, expect, it } from "vitest";
import { findings } from "./asking.js";
import { type Json, Stay } from "./stay.js";
import { hang, line, on, pump, start, type Told } from "./telling.js";

const AT_100: Told[] = [
  line("07:00"),
  pump("07:00"),
  hang("07:00", "saline-1", 1_000),
  start("07:00", 100, { id: "start", volumeToInfuse: "none" }),
];

async function told(now: string, entries: readonly Told[]): Promise<Stay> {
  const stay = await Stay.begun({ now });
  await stay.post([...entries]);
  return stay;
}

const ofCode = async (stay: Stay, code: string) =>
  (await findings(stay)).filter((one: Json) => one.code === code);

/** The first way to settle the only finding of a code that says something of an entry. */
async function offered(stay: Stay, code: string): Promise<Json> {
  const [found, ...others] = await ofCode(stay, code);
  expect(others).toEqual([]);
  return found.settledBy.find(({ entry }: Json) => entry !== undefined);
}

async function expectSettled(stay: Stay, code: string): Promise<Json> {
  const { entry } = await offered(stay, code);
  await stay.post([entry]);
  expect(await ofCode(stay, code)).toEqual([]);
  return entry;
}

describe("what is offered", () => {
  it("says that the primary was clamped", async () => {
    const secondary = { rate: 500, volumeToInfuse: 100, whenDone: "resume-primary" };
    const stay = await told("09:10", [
      ...AT_100,
      hang("09:00", "antibiotic", 250, { role: "secondary" }),
      on("09:00", "secondary-started", secondary),
    ]);
    const entry = await expectSettled(stay, "primary-not-clamped");
    expect(entry.replacement).toMatchObject({ ...secondary, primaryClamped: true });
  });

  it("puts an end after the beginning of its minute", async () => {
    const stay = await told("09:00", [...AT_100, on("07:00", "flow-stopped")]);
    const entry = await expectSettled(stay, "entry-without-effect");
    expect(entry.replacement).toMatchObject({ kind: "flow-stopped", order: 1 });
  });
});
