/** What the options of a choice have in common: a body is one of them, or a fault says to choose. */

import type { z } from "zod";

/**
 * A check for each option of a union of strict objects: a field that the option does not know speaks
 * for another option. zod takes such a field for a blemish, and would name it alone where the other
 * options have graver faults, so that nobody would be told to choose.
 */
export function refuseUnknownFields({ issues }: z.core.ParsePayload): void {
  for (const issue of issues) {
    if (issue.code === "unrecognized_keys") Object.assign(issue, { continue: false });
  }
}
