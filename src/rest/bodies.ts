/** Which bodies the service reads: application/json in UTF-8, of 1 MiB at most, and no other. */

import type { FastifyInstance, FastifyRequest } from "fastify";
import { parseJson } from "./json.js";

/** The most bytes of a body. */
export const MOST_BYTES = 1_048_576;

/** A media type that is JSON by its name and not by its charset. */
export class MediaTypeRefused extends Error {
  override readonly name = "MediaTypeRefused";
}

const CHARSET = /;\s*charset\s*=\s*"?([^\s";]+)/i;

export function acceptJsonAlone(app: FastifyInstance): void {
  app.removeAllContentTypeParsers();
  app.addContentTypeParser(
    "application/json",
    { parseAs: "buffer" },
    async (request: FastifyRequest, body: Buffer) => {
      const charset = CHARSET.exec(request.headers["content-type"] ?? "")?.[1];
      if (charset !== undefined && !/^utf-?8$/i.test(charset)) throw new MediaTypeRefused();
      return parseJson(body);
    },
  );
}
