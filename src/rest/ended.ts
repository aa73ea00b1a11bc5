/**
 * The end of an answer, however it came about: sent to its last byte, or broken off by whoever asked. The server's
 * own word for it, `onResponse`, is not said of the latter, so what has to be written down of every request waits
 * for this.
 */

import { finished } from "node:stream";
import type { FastifyReply } from "fastify";

/** Calls back once, at once where it has ended already; `broken` where not all of it was sent. */
export function whenEnded(reply: FastifyReply, then: (broken: boolean) => void): void {
  finished(reply.raw, (error) => then(error !== undefined && error !== null));
}
