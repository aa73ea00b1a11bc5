/**
 * The table `checkpoint`: computed states, kept so that an answer need not start from admission.
 * Everything in it can be computed again from the entries, so it may be changed and thrown away.
 * Of the checkpoints of a chain at one instant, at most one holds as of any sequence.
 */

import type { Database } from "better-sqlite3";
import { sql } from "kysely";
import type { Answering, AskOf, WriteOf, Writing } from "./conversation.js";
import { build, prepared, query } from "./query.js";
import type { Checkpoint } from "./store.js";

const columns = ["chain", "at", "valid_from as validFrom", "valid_to as validTo", "text"] as const;

export const checkpointQueries = {
  latest: query<AskOf<"checkpoint">>()((given) =>
    build
      .selectFrom("checkpoint")
      .select(columns)
      .where("chain", "=", given("chain"))
      .where("at", "<=", given("before"))
      .where("valid_from", "<=", given("sequence"))
      .where((e) => e.or([e("valid_to", "is", null), e("valid_to", ">", given("sequence"))]))
      .orderBy("at", "desc")
      .orderBy("valid_from", "desc")
      .limit(sql.lit(1)),
  ),
  holdingAfter: query<AskOf<"checkpoints-after">>()((given) =>
    build
      .selectFrom("checkpoint")
      .select(columns)
      .where("chain", "=", given("chain"))
      .where("at", ">", given("after"))
      .where("valid_to", "is", null)
      .orderBy("at")
      .limit(given("limit")),
  ),
  end: query<Omit<WriteOf<"end-checkpoints">, "before">>()((given) =>
    build
      .updateTable("checkpoint")
      .set({ valid_to: given("validTo") })
      .where("chain", "=", given("chain"))
      .where("at", ">", given("after"))
      .where("valid_to", "is", null),
  ),
  endBetween: query<WriteOf<"end-checkpoints">>()((given) =>
    build
      .updateTable("checkpoint")
      .set({ valid_to: given("validTo") })
      .where("chain", "=", given("chain"))
      .where("at", ">", given("after"))
      .where("at", "<", given("before"))
      .where("valid_to", "is", null),
  ),
  giveWay: query<Checkpoint>()((given) =>
    build
      .updateTable("checkpoint")
      .set({ valid_to: given("validFrom") })
      .where("chain", "=", given("chain"))
      .where("at", "=", given("at"))
      .where("valid_from", "<", given("validFrom"))
      .where("valid_to", "is", null),
  ),
  // One that is learnt late, of sequences before those of one already there, holds up to that one.
  add: query<Checkpoint>()((given) =>
    build
      .insertInto("checkpoint")
      .values((e) => ({
        chain: given("chain"),
        at: given("at"),
        valid_from: given("validFrom"),
        valid_to: e.fn.coalesce(
          given("validTo"),
          e
            .selectFrom("checkpoint")
            .select((later) => later.fn.min("valid_from").as("next"))
            .where("chain", "=", given("chain"))
            .where("at", "=", given("at"))
            .where("valid_from", ">", given("validFrom")),
        ),
        text: given("text"),
      }))
      .onConflict((conflict) =>
        conflict
          .columns(["chain", "at", "valid_from"])
          .doUpdateSet((e) => ({ valid_to: e.ref("excluded.valid_to"), text: e.ref("excluded.text") })),
      ),
  ),
};

export interface Checkpoints {
  readonly answering: Answering<"checkpoint" | "checkpoints-after">;
  readonly writing: Writing<"checkpoint" | "end-checkpoints">;
}

export function checkpointsOf(handle: Database): Checkpoints {
  const checkpoints = prepared(handle, checkpointQueries);
  return {
    answering: {
      checkpoint: (ask) => checkpoints.latest.get(ask),
      "checkpoints-after": (ask) => checkpoints.holdingAfter.all(ask),
    },
    writing: {
      checkpoint: ({ checkpoint }) => {
        checkpoints.giveWay.run(checkpoint);
        checkpoints.add.run(checkpoint);
      },
      "end-checkpoints": (write) => {
        if (write.before === null) checkpoints.end.run(write);
        else checkpoints.endBetween.run(write);
      },
    },
  };
}
