/**
 * The table `kept_answer`: what was answered to a request that carried an Idempotency-Key. An
 * answer is kept once; keeping another under the same scope and key fails, so that two requests
 * cannot both believe they were the first. With each one kept, a few that are too old are forgotten.
 */

import type { Database } from "better-sqlite3";
import { sql } from "kysely";
import type { Answering, AskOf, WriteOf, Writing } from "./conversation.js";
import { build, prepared, query } from "./query.js";
import type { KeptAnswer } from "./store.js";

/** More than are added at a time, so that they become fewer; few, so that no request waits for it. */
const FORGOTTEN_AT_ONCE = 10;

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
  // Row ids grow, so the first are the oldest: no index on the time is needed, which each append would pay.
  forget: query<Pick<WriteOf<"kept-answer">, "forgetBefore">>()((given) =>
    build
      .deleteFrom("kept_answer")
      .where(
        sql<number>`rowid`,
        "in",
        build
          .selectFrom("kept_answer")
          .select(sql<number>`rowid`.as("rowid"))
          .where(sql<number>`rowid`, ">", sql.lit(0))
          .orderBy(sql`rowid`)
          .limit(sql.lit(FORGOTTEN_AT_ONCE)),
      )
      .where("recorded_at", "<", given("forgetBefore")),
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
      "kept-answer": ({ answer, forgetBefore }) => {
        answers.forget.run({ forgetBefore });
        answers.keep.run(answer);
      },
    },
  };
}
