/**
 * What is recorded of a unit's patients, heard as it happens. The stream is read by `fetch`, since a token goes
 * with a header; one that ends or is lost is asked for again after the last event that arrived.
 */

import { credentials } from "./client.js";
import type { UnitEvent } from "./shapes.js";

/** How long after a stream was lost it is asked for again, in ms; doubled each time nothing came. */
const FIRST_WAIT = 1_000;
const LONGEST_WAIT = 30_000;

/** Calls `hear` for each event of a unit until `signal` ends it. */
export async function listenTo(
  unit: string,
  hear: (event: UnitEvent) => void,
  signal: AbortSignal,
): Promise<void> {
  let last: string | null = null;
  let wait = FIRST_WAIT;
  while (!signal.aborted) {
    try {
      const headers: HeadersInit = { ...credentials(), unattended: "?1" };
      if (last !== null) headers["last-event-id"] = last;
      const response: Response = await fetch(`/v1/units/${encodeURIComponent(unit)}/stream`, {
        headers,
        signal,
      });
      // Whoever may not hear it finds that out by what the page asks besides.
      if (response.status === 401 || response.status === 403 || response.status === 404) return;
      if (response.ok && response.body !== null) {
        wait = FIRST_WAIT;
        for await (const block of blocksOf(response.body)) {
          last = block.id ?? last;
          if (block.data !== null) hear(JSON.parse(block.data) as UnitEvent);
        }
      }
    } catch {
      // Lost: asked for again below, or ended by the signal.
    }
    await pause(wait, signal);
    wait = Math.min(wait * 2, LONGEST_WAIT);
  }
}

interface Block {
  readonly id: string | null;
  readonly data: string | null;
}

/** The blocks of a stream of server-sent events, as far as this service writes them. */
async function* blocksOf(body: ReadableStream<Uint8Array>): AsyncGenerator<Block> {
  const reader = body
    .pipeThrough(new TextDecoderStream() as ReadableWritablePair<string, Uint8Array>)
    .getReader();
  let text = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    text += value;
    const blocks = text.split("\n\n");
    text = blocks.pop() ?? "";
    yield* blocks.map(blockOf);
  }
}

/** One block: "data: …", "id: …"; a line that begins with a colon means nothing. */
export function blockOf(text: string): Block {
  const fields = new Map(
    text.split("\n").map((line) => {
      const colon = line.indexOf(":");
      return [line.slice(0, colon), line.slice(colon + 1).trimStart()];
    }),
  );
  return { id: fields.get("id") ?? null, data: fields.get("data") ?? null };
}

function pause(milliseconds: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, milliseconds);
    signal.addEventListener("abort", () => {
      clearTimeout(timer);
      resolve();
    });
  });
}
