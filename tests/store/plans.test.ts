/** How SQLite goes about each query: by an index that leads straight to the rows, never through a chain. */

import SqliteDatabase, { type Database } from "better-sqlite3";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { accessQueries } from "../../src/store/accesses.js";
import { accountQueries, sessionQueries } from "../../src/store/accounts.js";
import { checkpointQueries } from "../../src/store/checkpoints.js";
import { keptAnswerQueries } from "../../src/store/kept-answers.js";
import { ensureNewest } from "../../src/store/migrate.js";
import { placeQueries } from "../../src/store/places.js";
import type { Query } from "../../src/store/query.js";
import { originalQueries, rowQueries } from "../../src/store/row-queries.js";
import { stayQueries } from "../../src/store/stays.js";
import { tokenQueries } from "../../src/store/tokens.js";

let handle: Database;
beforeAll(async () => {
  handle = new SqliteDatabase(":memory:");
  await ensureNewest(handle, true);
});
afterAll(() => {
  handle.close();
});

function planOf({ sql }: Query<never, unknown>): string[] {
  const bound = Object.fromEntries([...sql.matchAll(/@(\w+)/g)].map(([, name]) => [name, null]));
  return handle
    .prepare<[object], { detail: string }>(`explain query plan ${sql}`)
    .all(bound)
    .map((step) => step.detail);
}

const expected: [string, Query<never, unknown>, string][] = [
  ["in a span", originalQueries.inSpan, "USING COVERING INDEX entry_by_time (chain=? AND at>? AND at<?)"],
  [
    "of a kind of the stay",
    originalQueries.ofStay,
    "USING COVERING INDEX entry_of_stay (chain=? AND kind=? AND sequence<?)",
  ],
  [
    "of a kind of act",
    originalQueries.ofAct,
    "USING COVERING INDEX entry_of_act (chain=? AND kind=? AND sequence<?)",
  ],
  ["of segments", originalQueries.segments, "USING COVERING INDEX entry_of_segment (chain=? AND at>?)"],
  [
    "of signatures",
    originalQueries.signatures,
    "USING COVERING INDEX entry_of_signature (chain=? AND at>? AND at<?)",
  ],
  [
    "declaring a key",
    originalQueries.declaring,
    "USING COVERING INDEX entry_by_declaration (chain=? AND declares=?)",
  ],
  ["with an id", originalQueries.withId, "USING INDEX sqlite_autoindex_entry_2 (id=? AND chain=?)"],
  ["its original", rowQueries.family, "USING INDEX sqlite_autoindex_entry_1 (chain=? AND sequence=?)"],
  [
    "its corrections",
    rowQueries.family,
    "USING COVERING INDEX entry_by_root (chain=? AND root=? AND sequence<?)",
  ],
  ["the head", rowQueries.last, "USING INDEX sqlite_autoindex_entry_1 (chain=?)"],
  ["a page", rowQueries.page, "USING INDEX sqlite_autoindex_entry_1 (chain=? AND sequence>? AND sequence<?)"],
  [
    "when it was recorded",
    rowQueries.recording,
    "USING INDEX sqlite_autoindex_entry_1 (chain=? AND sequence=?)",
  ],
  ["the checkpoint before", checkpointQueries.latest, "USING INDEX checkpoint_by_time (chain=? AND at<?)"],
  [
    "the checkpoints after",
    checkpointQueries.holdingAfter,
    "USING INDEX checkpoint_that_holds (chain=? AND at>?)",
  ],
  [
    "the checkpoints to end",
    checkpointQueries.endBetween,
    "USING INDEX checkpoint_that_holds (chain=? AND at>? AND at<?)",
  ],
  ["a unit's stays", stayQueries.everyOfUnit, "USING INDEX stay_by_unit (unit=? AND encounter>?)"],
  ["a unit's open stays", stayQueries.openOfUnit, "USING INDEX stay_open_by_unit (unit=? AND encounter>?)"],
  ["all open stays", stayQueries.open, "USING INDEX stay_open (encounter>?)"],
  ["a unit's ended stays", stayQueries.endedSince, "USING INDEX stay_by_end (unit=? AND discharged_at>?)"],
  ["who moved since", stayQueries.movedSince, "entry_of_move (at>?)"],
  [
    "of whom a move was recorded since",
    stayQueries.movedAsRecordedSince,
    "entry_of_move_by_recording (recorded_at>?)",
  ],
  [
    "what irrigates",
    originalQueries.ofInstilled,
    "USING COVERING INDEX entry_of_instilled (chain=? AND kind=? AND sequence<?)",
  ],
  [
    "what was corrected",
    originalQueries.corrected,
    "USING COVERING INDEX entry_by_root (chain=? AND root>?)",
  ],
  ["a token", tokenQueries.byHash, "USING INDEX sqlite_autoindex_token_2 (hash=?)"],
  ["an account", accountQueries.byUsername, "USING INDEX sqlite_autoindex_account_2 (username=?)"],
  ["a session", sessionQueries.byHash, "SEARCH session USING PRIMARY KEY (hash=?)"],
  ["its account", sessionQueries.byHash, "SEARCH account USING PRIMARY KEY (id=?)"],
  [
    "who left a unit lately",
    stayQueries.everyLeft,
    "USING COVERING INDEX departure_by_time (unit=? AND left_at>?)",
  ],
  ["sign-ins", accessQueries.ofAccounts, "USING INDEX access_of_accounts (place<?)"],
  ["who read lists of a unit", accessQueries.ofUnit, "USING INDEX access_of_units (place<?)"],
  ["where an account is known from", placeQueries.one, "USING PRIMARY KEY (hash=? AND account=?)"],
  ["an account's sessions", sessionQueries.endOf, "INDEX session_of_account (account=?)"],
  [
    "who read of an encounter",
    accessQueries.ofEncounter,
    "USING INDEX access_of_encounter (encounter=? AND place<?)",
  ],
  [
    "an emergency",
    accessQueries.emergency,
    "USING INDEX emergency_of_caller (encounter=? AND caller=? AND ends_at>?)",
  ],
  ["a kept answer", keptAnswerQueries.one, "USING INDEX sqlite_autoindex_kept_answer_1 (scope=? AND key=?)"],
];

test.each(expected)("%s is found by its index", (_name, query, index) => {
  expect(planOf(query)).toContainEqual(expect.stringContaining(index));
});

describe("no query reads through a whole table, or sorts what it found", () => {
  const all = {
    ...rowQueries,
    ...originalQueries,
    ...checkpointQueries,
    ...stayQueries,
    ...keptAnswerQueries,
    ...accountQueries,
    ...accessQueries,
    ...placeQueries,
  };
  test.each(Object.entries(all))("%s", (_name, query) => {
    for (const step of planOf(query)) {
      expect(step).not.toMatch(/TEMP B-TREE/);
      // What is given as a JSON list is read through; everything else is searched.
      if (!/json_each|VIRTUAL TABLE/.test(step)) expect(step).not.toMatch(/^SCAN/);
    }
  });
});
