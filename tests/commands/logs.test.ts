/** What the service writes of its work: enough to run it by, and nothing of a patient. */

import { describe, expect, it } from "vitest";
import { ask, drink, openWard } from "./ward.js";

describe("the log", () => {
  it("has no patient, no volume and no token in it, whatever is asked and however it is refused", async () => {
    const ward = await openWard({ LOG_LEVEL: "trace" });
    const entries = "/v1/encounters/demo-a/entries";
    const recorded = await ask(ward, entries, JSON.stringify({ entries: [drink("a", 731.125)] }));
    expect(recorded.status).toBe(201);
    const refused = await ask(ward, entries, JSON.stringify({ entries: [drink("b", 731.1257)] }));
    expect(refused.status).toBe(422);
    const broken = await ask(ward, entries, '{ "entries": [ { "note": "Imaginary Person" ');
    expect(broken.status).toBe(400);
    const unknown = await ask(ward, "/v1/encounters?patient=Imaginary%20Person");
    expect(unknown.status).toBe(400);
    const listed = await ask(ward, "/v1/encounters?unit=demo-unit");
    expect(await listed.text()).toContain("Demo Patient A");
    const totals = await ask(ward, "/v1/encounters/demo-a/totals");
    expect(totals.status).toBe(200);
    ward.child.kill("SIGTERM");
    expect(await ward.ended).toBe(0);

    const { stdout, stderr } = ward.written;
    expect(stderr).toBe("");
    const lines = stdout.trimEnd().split("\n");
    const messages = lines.map((line) => (JSON.parse(line) as { msg?: string }).msg);
    expect(messages).toEqual(expect.arrayContaining([`listening on ${ward.url}`, "stopping", "stopped"]));
    const secrets = [ward.token, "Demo Patient", "DEMO-A", "Imaginary", "731.12"];
    expect(secrets.filter((secret) => stdout.includes(secret))).toEqual([]);
  });
});
