/** The shifts of a unit on the wire: a list of starting times that tile the day. */

import { z } from "zod";
import { checkShifts, type ShiftFault } from "../time/shift-pattern.js";
import { faultIssue } from "./fault.js";
import { Key, text } from "./text.js";

const Starts = z
  .string()
  .regex(/^(?:[01]\d|2[0-3]):[0-5]\d$/, { error: "must be a time of day from 00:00 to 23:59." })
  .describe("The clock time at which it starts, hours and minutes; it lasts until the next one starts.");

export const ShiftText = z
  .strictObject({
    name: Key.describe("Its name, unique in the unit: `day` in `2026-03-04/day`."),
    label: text(100, "What people call it. At most 100 characters, not blank.").optional(),
    starts: Starts,
  })
  .meta({ id: "Shift", description: "One shift of a unit.", examples: [{ name: "day", starts: "07:00" }] });
export type ShiftText = z.infer<typeof ShiftText>;

/** What is wrong with shifts only together, and in which field; the form of each is judged by itself. */
const TOGETHER: Partial<Record<ShiftFault["code"], keyof ShiftText>> = {
  "shift-name-repeated": "name",
  "shift-start-repeated": "starts",
  "shift-out-of-order": "starts",
};

export const Shifts = z
  .array(ShiftText)
  .min(1)
  .max(24)
  .check(({ value, issues }) => {
    for (const { shift = 0, code, detail } of checkShifts(value)) {
      const field = TOGETHER[code];
      if (field === undefined) continue;
      const path = [shift, field];
      issues.push(
        faultIssue(value, "inconsistent", `does not fit the others: ${detail}`, { path, goOn: true }),
      );
    }
  })
  .meta({
    description:
      "1 to 24 shifts, which tile the day: names and starts differ, starts follow one another round the clock, and the first listed starts the day.",
    examples: [
      [
        { name: "day", starts: "07:00" },
        { name: "night", starts: "19:00" },
      ],
    ],
  });
