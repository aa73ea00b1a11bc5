/**
 * The API description for people: a page that is served with everything it needs, so that it also works
 * where there is no other network. It makes its styles and starts its script inside the page; what
 * that needs is allowed here alone, and nothing of another origin is.
 */

import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import scalar from "@scalar/fastify-api-reference";
import type { FastifyInstance } from "fastify";

const PREFIX = "/reference";

/** The committed description, as it lies beside the program, from its source and from where it is built. */
const DESCRIPTION = new URL(
  `${import.meta.url.endsWith(".ts") ? "../.." : "../../.."}/openapi/openapi.json`,
  import.meta.url,
);

export async function reference(app: FastifyInstance): Promise<void> {
  let text: string | undefined;
  app.get("/openapi.json", (_, reply) => {
    text ??= JSON.stringify(JSON.parse(readFileSync(DESCRIPTION, "utf8")));
    return reply.type("application/json; charset=utf-8").send(text);
  });
  app.addHook("onSend", async (_, reply, payload) => {
    const html = String(reply.getHeader("content-type") ?? "").startsWith("text/html");
    if (html && typeof payload === "string") reply.header("content-security-policy", policyFor(payload));
    return payload;
  });
  await app.register(scalar, {
    routePrefix: PREFIX,
    configuration: {
      url: "/openapi.json",
      pageTitle: "API of the infusion ledger",
      withDefaultFonts: false,
      telemetry: false,
      showDeveloperTools: "never",
      hideClientButton: true,
      agent: { disabled: true },
      mcp: { disabled: true },
      // Without one of its own a browser asks for /favicon.ico, which there is not.
      favicon: "data:,",
    },
  });
}

/** The page's own inline scripts by their digests; inline styles, which it makes while it runs; itself. */
function policyFor(html: string): string {
  const scripts = [...html.matchAll(/<script(?![^>]*\ssrc=)[^>]*>([\s\S]*?)<\/script>/g)].map(
    ([, script = ""]) => `'sha256-${createHash("sha256").update(script).digest("base64")}'`,
  );
  return [
    "default-src 'self'",
    `script-src 'self' ${scripts.join(" ")}`,
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data:",
    "font-src 'self' data:",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
    "object-src 'none'",
  ].join("; ");
}
