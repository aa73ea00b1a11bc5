/** The one rule that fields naming instants have together: a span ends after it starts. */

import type { z } from "zod";
import { faultIssue } from "../fault.js";
import { readInstant } from "../instant.js";

/** A check that the field `start`, where given, lies before the field `end` of the same entry. */
export function mustFollow<Start extends string, End extends string>(start: Start, end: End) {
  return ({
    value,
    issues,
  }: z.core.ParsePayload<
    { readonly [field in Start]?: string } & { readonly [field in End]: string }
  >): void => {
    const from: string | undefined = value[start];
    if (from === undefined || readInstant(from) < readInstant(value[end])) return;
    issues.push(faultIssue(from, "inconsistent", `must lie before "${end}".`, { path: [start], goOn: true }));
  };
}
