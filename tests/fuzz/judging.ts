/** What every answer must be, whatever was asked. */

import type { Sent } from "./requests.js";

export interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly body: string;
}

/** The most that an answer may hold: the most entries of a page, each as long as a body allows, is far below. */
const MOST_BYTES = 8 * 1024 * 1024;

/** Signs of an answer that tells of the program instead of the request. */
const LEAKS = [
  /\n\s+at .+:\d+:\d+/,
  /node_modules/,
  /\/src\/\w+\/[\w-]+\.[jt]s/,
  /SQLITE_/i,
  /select .+ from /i,
];

/** What is wrong with an answer, in words; empty when nothing is. */
export function faultsOf(
  { operation, as, elsewhere, text }: Sent,
  { status, headers, body }: Answer,
): string[] {
  const faults: string[] = [];
  if (status >= 500) faults.push(`it answered ${status}`);
  // A body where none belongs may be refused as a body.
  const unasked = operation.body === null && text !== null && (status === 413 || status === 415);
  const known =
    operation.statuses.has(status) || unasked || (elsewhere && (status === 404 || status === 405));
  if (!known) faults.push(`${status} is no answer that the description knows`);
  if (body.length > MOST_BYTES) faults.push(`its answer has ${body.length} characters`);
  const leak = LEAKS.find((sign) => sign.test(body));
  if (leak !== undefined && status >= 400) faults.push(`its answer tells of the program (${leak})`);
  if (status >= 400) faults.push(...problemFaults(status, headers, body));
  if (status < 300 && as === "nobody" && !operation.open) {
    faults.push("somebody unknown was let in");
  }
  return faults;
}

function problemFaults(status: number, headers: Answer["headers"], body: string): string[] {
  const type = String(headers["content-type"] ?? "");
  if (!type.startsWith("application/problem+json")) return [`a ${status} of type ${type || "none"}`];
  const problem = JSON.parse(body) as Record<string, unknown>;
  const faults: string[] = [];
  if (problem.status !== status) faults.push(`its body says ${String(problem.status)}, the answer ${status}`);
  if (typeof problem.type !== "string" || !problem.type.startsWith("/problems/"))
    faults.push("no problem type");
  if (typeof problem.title !== "string") faults.push("no title");
  return faults;
}
