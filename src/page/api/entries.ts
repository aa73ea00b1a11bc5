/** The entries of an encounter that a question is about, page by page until there are no more. */

import type { operations } from "../../../openapi/client.js";
import { client } from "./client.js";
import { answerOf } from "./problems.js";
import type { Entry } from "./shapes.js";

type Asked = NonNullable<operations["listEntries"]["parameters"]["query"]>;

/** The most that one page holds. */
const PAGE = 1000;

export async function everyEntry(encounter: string, asked: Asked, signal: AbortSignal): Promise<Entry[]> {
  const found: Entry[] = [];
  let after: string | undefined;
  do {
    const query = { ...asked, limit: PAGE, ...(after === undefined ? {} : { after }) };
    const page = await answerOf(
      client.GET("/v1/encounters/{encounter}/entries", { params: { path: { encounter }, query }, signal }),
    );
    found.push(...page.entries);
    after = afterIn(page.next);
  } while (after !== undefined);
  return found;
}

/** Where the next page begins: the address of it says so. */
function afterIn(next: string | undefined): string | undefined {
  if (next === undefined) return undefined;
  return new URLSearchParams(next.slice(next.indexOf("?"))).get("after") ?? undefined;
}
