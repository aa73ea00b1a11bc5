/** A clear that was found is asked about, and told as lost, by the most that it can have lost. */

import { expect, it } from "vitest";
import { answered, asked, chart, findings, read, reset } from "./asking.js";
import { PUMPS, Stay } from "./stay.js";
import { at, change, running } from "./telling.js";

/** 75 mL/h from 07:00, read as it should be at 08:00. */
async function readAtEight(now = "15:00"): Promise<Stay> {
  const stay = await Stay.begun({ now });
  await stay.post(running());
  await chart(stay, [read("08:00", 75)]);
  return stay;
}

/** Some time between eight and two, as is seen at two. */
const found = (id = "found") => reset("14:00", { id, between: [at("08:00"), at("14:00")] });

const lostIn = async (stay: Stay) =>
  (await findings(stay))
    .filter(({ code }) => code === "totals-lost")
    .map(({ severity, sentence }) => `${severity}: ${sentence}`);

it("asks for all that flowed until the latest it can have been: 450 mL in six hours", async () => {
  const stay = await readAtEight();
  const { problem, detail, atRisk } = await asked(stay, [found()]);
  expect(problem).toBe("totals-at-risk");
  expect(detail).toBe(
    "pump-1 would forget up to 450 mL of the primary that nobody has written down since 08:00.",
  );
  expect(atRisk[0]).toMatchObject({ total: "primary", atRisk: 450, expected: 525 });
});

it("loses what the next reading does not show, and takes a reason for it", async () => {
  const stay = await readAtEight();
  const request = [found(), read("14:00", 10)];
  const { atRisk } = await asked(stay, request);
  expect(atRisk.map(({ atRisk }) => atRisk)).toEqual([440]);
  await chart(stay, answered(request, atRisk[0]!, atRisk[0]!.answers[0]));
  expect(await lostIn(stay)).toEqual([
    "note: The primary total of pump-1 was cleared between 08:00 and 14:00 with 440 mL not written down " +
      "since 08:00, as was charted: that volume is computed only.",
  ]);
});

it("is found where a device tells it, by what is known then, and by the reading that follows", async () => {
  const stay = await readAtEight();
  const clear = await stay.post([found()], { as: PUMPS });
  expect(clear.body.findings.map(({ code }: { code: string }) => code)).toContain("totals-lost");
  expect((await lostIn(stay))[0]).toContain("with 450 mL not written down");
  const next = await stay.post([read("14:30", 40)], { as: PUMPS });
  expect((await lostIn(stay))[0]).toContain("with 447.5 mL not written down");
  expect(next.body.findings.map(({ sentence }: { sentence: string }) => sentence)).toEqual([
    expect.stringContaining("with 447.5 mL not written down"),
  ]);
});

it("loses more where a rate within its hours comes to light, which the answer to that names", async () => {
  const stay = await readAtEight();
  await stay.post([found()], { as: PUMPS });
  const changed = await stay.post([change("10:00", 100)], { as: PUMPS });
  expect((await lostIn(stay))[0]).toContain("with 550 mL not written down");
  expect(changed.body.findings.map(({ sentence }: { sentence: string }) => sentence)).toContainEqual(
    expect.stringContaining("with 550 mL not written down"),
  );
});

it("is no nuisance where the next reading shows nearly all of it", async () => {
  const stay = await readAtEight();
  await chart(stay, [found(), read("14:00", 449)]);
  expect(await lostIn(stay)).toEqual([]);
});
