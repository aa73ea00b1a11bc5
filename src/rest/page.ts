/** The web page as it was built: one document at exactly `/`, and what it loads under `/assets`. */

import { join } from "node:path";
import fastifyStatic from "@fastify/static";
import type { FastifyInstance } from "fastify";

export async function page(app: FastifyInstance, { root }: { readonly root: string }): Promise<void> {
  await app.register(fastifyStatic, {
    root: join(root, "assets"),
    prefix: "/assets/",
    index: false,
    decorateReply: true,
    // The build puts a digest of the content into each name.
    immutable: true,
    maxAge: "365d",
  });
  app.get("/", (_, reply) => reply.sendFile("index.html", root, { immutable: false, maxAge: 0 }));
}
