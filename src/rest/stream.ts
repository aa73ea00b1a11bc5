/**
 * What is recorded of a unit's patients, told as it happens: server-sent events, an id for each, so that who
 * comes back with the last one misses nothing. It tells that something was recorded, and not what: who is told
 * asks for that, and is let in or not.
 */

import { setMaxListeners } from "node:events";
import { setTimeout as wait } from "node:timers/promises";
import type { Ledger } from "../ledger/ledger.js";

export interface StreamSettings {
  /** How often it is looked whether anything was recorded, in ms: by this process or another one. */
  readonly every: number;
  /** How long one stream lasts, in ms: then it is asked for again, and who may no longer see it is turned away. */
  readonly lasts: number;
  /** How long nothing is said before a line that means nothing keeps the connection open, in ms. */
  readonly silence: number;
  /** How many may last at one time. */
  readonly most: number;
}

export const USUAL_STREAMS: StreamSettings = { every: 300, lasts: 300_000, silence: 15_000, most: 1_000 };

/** After how many ms a browser that lost the stream asks for it again. */
const RETRY = 1_000;

export class Streams {
  private open = 0;
  private readonly ending = new AbortController();

  constructor(
    private readonly ledger: Ledger,
    private readonly settings: StreamSettings,
  ) {
    // Each stream that waits listens to the one end of all.
    setMaxListeners(settings.most, this.ending.signal);
  }

  /** Whether one more may be begun. */
  get haveRoom(): boolean {
    return this.open < this.settings.most && !this.ending.signal.aborted;
  }

  /** Ends every stream: what waits is let go at once. */
  end(): void {
    this.ending.abort();
  }

  /**
   * The text of a stream of one unit, from after a place in the order of recording, or from now. Begins with
   * where it begins, so that who loses it before anything was recorded can come back too.
   */
  async *of(unit: string, after: number | null): AsyncGenerator<string> {
    const { every, lasts, silence } = this.settings;
    const { signal } = this.ending;
    const began = performance.now();
    let said = began;
    this.open++;
    try {
      let place = after ?? (await this.ledger.recordedSince(null)).place;
      yield `retry: ${RETRY}\nid: ${place}\n\n`;
      do {
        const { place: reached, recordings, more } = await this.ledger.recordedSince(place);
        const events = recordings
          .filter(({ units }) => units.includes(unit))
          .map(({ encounter, sequence }) => `data: ${JSON.stringify({ encounter, sequence })}`);
        place = reached;
        // Only the last has the place: who has not got it comes back for all of them.
        if (events.length > 0) yield `${events.join("\n\n")}\nid: ${place}\n\n`;
        else if (performance.now() - said >= silence) yield ":\n\n";
        else if (more) continue;
        else {
          await wait(every, undefined, { signal }).catch(() => {});
          continue;
        }
        said = performance.now();
      } while (!signal.aborted && performance.now() - began < lasts);
    } finally {
      this.open--;
    }
  }
}
