/**
 * How a kind of entry is written down: what all kinds share, and the two forms a kind has. Most are
 * one strict object. Where a fact can be told in several ways ("a rate, or drops per minute, or …")
 * the kind is one strict object per way, so that the API description itself says "exactly one".
 */

import { z } from "zod";
import { refuseUnknownFields } from "../choice.js";
import { InstantText } from "../instant.js";
import { Key, words } from "../text.js";

type Shape = z.core.$ZodLooseShape;

const At = InstantText.describe(
  "When it happened, with an offset. At most 24 h before admission and 5 min ahead.",
);
const Order = z
  .int()
  .min(-1_000)
  .max(1_000)
  .describe("Decides first among entries of one instant, lower before higher; absent: by the kind.");

/** What an entry may carry besides its facts; `at` aside, nothing of it is needed. */
export const COMMON = {
  id: Key.optional().describe(
    "Unique in the encounter: the same id with the same body is recorded once. Absent: the ledger makes one.",
  ),
  note: words("Anything else worth saying.").optional(),
};
const HAPPENED = { at: At, ...COMMON, order: Order.optional() };

/** What a kind says of itself in the API description: a sentence, and the fields of an invented example. */
export interface Says {
  readonly description: string;
  readonly example: Record<string, unknown>;
}

const EXAMPLE_AT = "2026-03-04T07:00:00-06:00";

function meta(kind: string, { description, example }: Says, suffix: string) {
  const id = kind.replace(/(?:^|-)([a-z])/g, (_, letter: string) => letter.toUpperCase()) + suffix;
  return { id, description, examples: [{ kind, at: EXAMPLE_AT, ...example }] };
}

/** Judges the fields of an entry together, once each is good by itself. */
type Check<S extends Shape> = (
  fact: z.core.ParsePayload<z.core.$InferObjectOutput<typeof HAPPENED & S, Record<string, never>>>,
) => void;

const nothing = (): void => {};

/** One way of telling a kind; `suffix` goes on its name in the API description, as in FlowStartedByDose. */
export function way<const K extends string, S extends Shape>(
  kind: K,
  suffix: string,
  says: Says,
  shape: S,
  check: Check<S> = nothing,
) {
  return (
    z
      .strictObject({ kind: z.literal(kind), ...HAPPENED, ...shape })
      // What the object yields is what the check takes; the compiler does not see it through the spread.
      .check(check as z.core.CheckFn<unknown>, refuseUnknownFields)
      .meta(meta(kind, says, suffix))
  );
}

/** A kind told in one way. */
export function kind<const K extends string, S extends Shape>(
  kind: K,
  says: Says,
  shape: S,
  check?: Check<S>,
) {
  return way(kind, "", says, shape, check);
}

/**
 * A kind told in exactly one of several ways; `choice` is the sentence for a caller who told none of
 * them or several, going on after the name of the entry ("must say …").
 */
export function oneOfWays<const K extends string, const Ways extends readonly z.core.SomeType[]>(
  kind: K,
  says: Says,
  choice: string,
  ways: Ways,
) {
  // Ways exclude one another, being strict, so parsing may stop at the first that fits.
  const union = z.union(ways, { error: choice, inclusive: false }).meta(meta(kind, says, ""));
  // A union is discriminable when it says which values its discriminator has; zod asks only objects.
  const propValues = { kind: new Set<string>([kind]) };
  union._zod.propValues = propValues;
  return union as typeof union & { readonly _zod: { readonly propValues: typeof propValues } };
}
