/** How a problem leaves the service, and which problem an error of the server underneath is. */

import type { FastifyError, FastifyReply } from "fastify";
import { ProviderUnavailable } from "../access/provider.js";
import { StoreUnavailable } from "../store/store.js";
import { MediaTypeRefused } from "./bodies.js";
import { NotJson } from "./json.js";
import { PROBLEM_JSON, PROBLEMS, type Problem, problemText } from "./problems.js";

export function sendProblem(reply: FastifyReply, problem: Problem): FastifyReply {
  return reply
    .code(PROBLEMS[problem.name].status)
    .headers(problem.headers ?? {})
    .header("content-type", PROBLEM_JSON)
    .header("cache-control", "no-store")
    .send(problemText(problem));
}

/** In how many seconds a caller may try again when the store was not to be had. */
const RETRY_AFTER = 1;

/** The problem that an error is. Of one that nobody foresaw the caller learns nothing but that it happened. */
export function problemOfError(error: FastifyError | Error): Problem {
  if (error instanceof NotJson) return { name: "not-json", detail: error.message };
  if (error instanceof MediaTypeRefused) return MEDIA_TYPE;
  if (error instanceof StoreUnavailable || error instanceof ProviderUnavailable) {
    const headers = { "retry-after": String(RETRY_AFTER) };
    return { name: "unavailable", detail: `Try again in ${RETRY_AFTER} s.`, headers };
  }
  switch ("code" in error ? error.code : undefined) {
    case "FST_ERR_CTP_BODY_TOO_LARGE":
      return { name: "too-large", detail: "A body may have 1 MiB at most." };
    case "FST_ERR_CTP_INVALID_MEDIA_TYPE":
      return MEDIA_TYPE;
    case "FST_ERR_CTP_INVALID_CONTENT_LENGTH":
      return { name: "not-json", detail: "The body is not as long as its Content-Length says." };
    case "FST_ERR_MAX_PARAM_LENGTH":
      return NOTHING_HERE;
    case "FST_ERR_BAD_URL":
      return { name: "not-found", detail: "The address is not percent-encoded as it should be." };
    default:
      return isRefusal(error) ? NOTHING_HERE : { name: "internal" };
  }
}

/** What a plugin refuses for its own reasons, such as a folder among the page's files, is not there. */
function isRefusal(error: FastifyError | Error): boolean {
  const status = "statusCode" in error ? (error.statusCode ?? 500) : 500;
  return status >= 400 && status < 500;
}

export const NOTHING_HERE: Problem = { name: "not-found", detail: "There is nothing at this address." };
const MEDIA_TYPE: Problem = { name: "media-type", detail: "Send the body as application/json in UTF-8." };
