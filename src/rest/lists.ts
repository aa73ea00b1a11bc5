/** Lists: a page of items under their plural, and the address of the page that comes next. */

import type { Answered } from "./route.js";

/**
 * A page as it is answered; `after` is the cursor the next page begins with, undefined on the last.
 * The address stands in the body and in a Link header (RFC 8288).
 */
export function listed(page: object, after: string | undefined, url: string): Answered {
  if (after === undefined) return { status: 200, body: page };
  const next = nextAddress(url, after);
  return { status: 200, body: { ...page, next }, headers: { link: `<${next}>; rel="next"` } };
}

function nextAddress(url: string, after: string): string {
  const [path = "", query = ""] = url.split("?", 2);
  const parameters = new URLSearchParams(query);
  parameters.set("after", after);
  return `${path}?${parameters}`;
}
