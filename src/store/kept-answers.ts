/**
 * The table `kept_answer`: what was answered to a request that carried an Idempotency-Key. An
 * answer is kept once; keeping another under the same scope and key fails, so that two requests
 * cannot both believe they were the first.
 */

import type { Database } from "better-sqlite3";
import type { Answering, AskOf, Writing } from "./conversation.js";
import { build, prepared, query } from "./query.js";
import type { KeptAnswer } from "./store.js";

export const keptAnswerQueries = {
  one: query<AskOf<"kept-answer">>()((given) =>
    build
      .selectFrom("kept_answer")
      .select(["scope", "key", "fingerprint", "status", "body", "headers", "recorded_at as recordedAt"])
      .where("scope", "=", given("scope"))
      .where("key", "=", given("key")),
  ),
  keep: query<KeptAnswer>()((given) =>
    build.insertInto("kept_answer").values({
      scope: given("scope"),
      key: given("key"),
      fingerprint: given("fingerprint"),
      status: given("status"),
      body: given("body"),
      headers: given("headers"),
      recorded_at: given("recordedAt"),
    }),
  ),
};

export interface KeptAnswers {
  readonly answering: Answering<"kept-answer">;
  readonly writing: Writing<"kept-answer">;
}

export function keptAnswersOf(handle: Database): KeptAnswers {
  const answers = prepared(handle, keptAnswerQueries);
  return {
    answering: { "kept-answer": (ask) => answers.one.get(ask) },
    writing: {
      "kept-answer": ({ answer }) => {
        answers.keep.run(answer);
      },
    },
  };
}
