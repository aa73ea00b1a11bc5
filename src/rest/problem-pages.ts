/** The pages that problem types resolve to: one for each, for whoever reads an error and wants to know more. */

import { createHash } from "node:crypto";
import type { FastifyInstance } from "fastify";
import {
  PROBLEM_NAMES,
  PROBLEMS,
  type ProblemName,
  type ProblemType,
  problemText,
  problemType,
} from "./problems.js";
import { sendProblem } from "./replies.js";

const STYLE = `
:root { color-scheme: light dark; }
body { max-width: 42rem; margin: 2rem auto; padding: 0 1rem; font: 1rem/1.5 system-ui, sans-serif; }
pre { overflow-x: auto; padding: 0.75rem; border: 1px solid; border-radius: 0.25rem; font-size: 0.875rem; }
dt { margin-top: 0.75rem; font-weight: 600; }
dd { margin-left: 1.5rem; }
`;

/** The page has one style sheet, inside it; nothing else may be loaded or run. */
const POLICY = `default-src 'none'; style-src 'sha256-${createHash("sha256").update(STYLE).digest("base64")}'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'`;

export async function problemPages(app: FastifyInstance): Promise<void> {
  app.addHook("onSend", async (_, reply, payload) => {
    reply.header("content-security-policy", POLICY);
    return payload;
  });
  app.get("/problems", (_, reply) => reply.type("text/html; charset=utf-8").send(index()));
  app.get<{ Params: { type: string } }>("/problems/:type", ({ params }, reply) => {
    const type = problemType(params.type);
    if (type === undefined)
      return sendProblem(reply, { name: "not-found", detail: "There is no such problem type." });
    return reply.type("text/html; charset=utf-8").send(pageOf(params.type as ProblemName, type));
  });
}

function index(): string {
  const items = PROBLEM_NAMES.map((name) => {
    const { status, title, means } = PROBLEMS[name];
    return `<dt>${status} <a href="/problems/${name}">${escaped(title)}</a></dt><dd>${prose(means)}</dd>`;
  });
  const intro =
    "<p>A request that is not done is answered with a problem document (RFC 9457), whose <code>type</code> is one of these.</p>";
  return document("Problems", `${intro}<dl>${items.join("\n")}</dl>`);
}

function pageOf(name: ProblemName, { status, title, means, settle, example }: ProblemType): string {
  const { detail, ...members } = example as { readonly detail?: string };
  const text = JSON.stringify(JSON.parse(problemText({ name, detail, members })), null, 2);
  return document(
    title,
    `<p>Status ${status}, type <code>/problems/${name}</code>.</p>
<h2>What it means</h2>
<p>${prose(means)}</p>
<h2>What to do</h2>
<p>${prose(settle)}</p>
<h2>An example</h2>
<pre>${escaped(text)}</pre>
<p><a href="/problems">All problems</a></p>`,
  );
}

function document(title: string, content: string): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style>${STYLE}</style>
</head>
<body>
<main>
<h1>${escaped(title)}</h1>
${content}
</main>
</body>
</html>
`;
}

/** Prose with \`code\` between backticks. */
function prose(text: string): string {
  return escaped(text).replace(/`([^`]+)`/g, "<code>$1</code>");
}

function escaped(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}
