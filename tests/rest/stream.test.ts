/** What is told as it happens: to whom, from where on, and how it ends. */

import type { AddressInfo } from "node:net";
import { describe, expect, it, onTestFinished } from "vitest";
import { at, SALINE, Ward } from "./ward.js";

const STREAM = "/v1/units/east/stream";
/** Lasts as long as a test. */
const LASTING = { every: 2, lasts: 3_600_000, silence: 3_600_000 };

const tea = (id: string) => ({ id, kind: "intake-measured", at: at("09:00"), category: "oral", volume: 100 });

/** A stream as a browser has it, read piece by piece. */
class Listening {
  private text = "";
  private constructor(
    readonly response: Response,
    private readonly reader: ReadableStreamDefaultReader<Uint8Array>,
  ) {}

  static async to(ward: Ward, path = STREAM, headers: Record<string, string> = {}): Promise<Listening> {
    if (!ward.app.server.listening) await ward.app.listen({ host: "127.0.0.1", port: 0 });
    const { port } = ward.app.server.address() as AddressInfo;
    const authorization = `Bearer ${ward.token("nurse")}`;
    const response = await fetch(`http://127.0.0.1:${port}${path}`, {
      headers: { authorization, ...headers },
    });
    const reader = response.body!.getReader();
    onTestFinished(() => reader.cancel().catch(() => {}));
    return new Listening(response, reader);
  }

  /** What came up to and with a match; reads on until then. */
  async until(pattern: RegExp): Promise<RegExpExecArray> {
    for (;;) {
      const found = pattern.exec(this.text);
      if (found !== null) {
        this.text = this.text.slice(found.index + found[0].length);
        return found;
      }
      const { done, value } = await this.reader.read();
      if (done) throw new Error(`it ended before ${pattern}`);
      this.text += new TextDecoder().decode(value);
    }
  }

  /** The data of the next event. */
  async event(): Promise<unknown> {
    return JSON.parse((await this.until(/^data: (.*)\n/m))[1]!);
  }

  async ended(): Promise<string> {
    for (;;) {
      const { done, value } = await this.reader.read();
      if (done) return this.text;
      this.text += new TextDecoder().decode(value);
    }
  }
}

describe("a stream of a unit", () => {
  it("tells of what a colleague records, and not what it is", async () => {
    const ward = await Ward.open({ streams: LASTING });
    const listening = await Listening.to(ward);
    expect(listening.response.headers.get("content-type")).toBe("text/event-stream; charset=utf-8");
    expect(listening.response.headers.get("cache-control")).toBe("no-store");
    await listening.until(/^retry: 1000\nid: \d+\n\n/);
    expect((await ward.record(SALINE)).status).toBe(201);
    expect(await listening.event()).toEqual({ encounter: "stay-1", sequence: 5 });
    await ward.record([tea("tea")]);
    expect(await listening.event()).toEqual({ encounter: "stay-1", sequence: 6 });
  });

  it("goes on after the last event that arrived, with each encounter once", async () => {
    const ward = await Ward.open({ streams: LASTING });
    const first = await Listening.to(ward);
    const [, id = ""] = await first.until(/^id: (\d+)\n/m);
    await ward.record(SALINE);
    await ward.record([tea("tea")]);
    const again = await Listening.to(ward, STREAM, { "last-event-id": id });
    expect(await again.event()).toEqual({ encounter: "stay-1", sequence: 6 });
    const [, last = ""] = await again.until(/^id: (\d+)\n/m);
    expect(Number(last)).toBe(Number(id) + 5);
    const after = await Listening.to(ward, STREAM, { "last-event-id": last });
    await ward.record([tea("tea-2")]);
    expect(await after.event()).toEqual({ encounter: "stay-1", sequence: 7 });
  });

  it("is of its own patients alone; of one who moves both units hear", async () => {
    const ward = await Ward.open({ streams: LASTING });
    const [east, west] = [await Listening.to(ward), await Listening.to(ward, "/v1/units/west/stream")];
    for (const one of [east, west]) await one.until(/^id: \d+\n/m);
    await ward.ask("POST", "/v1/encounters/stay-2/entries", { body: { entries: [tea("theirs")] } });
    expect(await west.event()).toMatchObject({ encounter: "stay-2" });
    const move = { move: { unit: "west", at: at("10:00") } };
    await ward.done("PATCH", "/v1/encounters/stay-1", { body: move });
    // The first that east hears: nothing of stay-2 came before it.
    expect(await east.event()).toMatchObject({ encounter: "stay-1" });
    expect(await west.event()).toMatchObject({ encounter: "stay-1" });
    await ward.record([tea("after")]);
    expect(await west.event()).toMatchObject({ encounter: "stay-1" });
    // A correction of what may have moved them is told to both again.
    const amended = { ...tea("after"), volume: 50, id: undefined };
    const amendment = { kind: "entry-amended", entry: "after", reason: "Misread", replacement: amended };
    await ward.record([amendment]);
    expect(await east.event()).toMatchObject({ encounter: "stay-1" });
  });

  it("says a line that means nothing where nothing happens, and ends in time", async () => {
    const ward = await Ward.open({ streams: { every: 2, lasts: 60, silence: 10 } });
    const text = await (await Listening.to(ward)).ended();
    expect(text).toMatch(/^retry: 1000\nid: \d+\n\n(:\n\n)+$/);
  });

  it("ends at once when the service stops", async () => {
    const ward = await Ward.open({ streams: LASTING });
    const listening = await Listening.to(ward);
    await listening.until(/^id: \d+\n/m);
    const closing = ward.app.close();
    // Left to itself it would last an hour, and this would wait for it.
    await listening.ended();
    await closing;
  });

  it("is refused where as many as there may be are open", async () => {
    const ward = await Ward.open({ streams: { ...LASTING, most: 1 } });
    const listening = await Listening.to(ward);
    await listening.until(/^id: \d+\n/m);
    const refused = await ward.get(STREAM);
    expect([refused.status, refused.headers["retry-after"]]).toEqual([503, "1"]);
  });

  it("is one of many, and nobody is warned of them", async () => {
    const warnings: Error[] = [];
    const warned = (warning: Error) => warnings.push(warning);
    process.on("warning", warned);
    onTestFinished(() => void process.off("warning", warned));
    const ward = await Ward.open({ streams: { ...LASTING, most: 20 } });
    const all: Listening[] = [];
    for (let count = 0; count < 12; count += 1) all.push(await Listening.to(ward));
    for (const one of all) await one.until(/^id: \d+\n/m);
    await ward.record([tea("tea")]);
    for (const one of all) expect(await one.event()).toMatchObject({ encounter: "stay-1" });
    expect(warnings).toEqual([]);
  });

  it("wants an id of its own", async () => {
    const ward = await Ward.open();
    const refused = await ward.get(STREAM, { headers: { "last-event-id": "yesterday" } });
    expect([refused.status, refused.body.errors[0].parameter]).toEqual([400, "Last-Event-ID"]);
  });
});
