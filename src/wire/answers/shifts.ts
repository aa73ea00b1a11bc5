/** A shift in one answer, its signatures, and what changed between two moments. */

import { z } from "zod";
import { InstantText } from "../instant.js";
import { Key } from "../text.js";
import { BalanceAnswer } from "./balance.js";
import { RecordedEntry } from "./entries.js";
import { Finding } from "./findings.js";
import { AsOf, Author, LedgerHead, Until } from "./head.js";
import { Totals } from "./totals.js";
import { Volumes } from "./volumes.js";

const FigureRow = z
  .strictObject({
    of: z
      .enum(["volume", "intake", "output", "net", "unmeasured"])
      .describe("What a line delivered; intake or output of a category; the net; or what nobody measured."),
    key: z.string().nullable().describe("The line or category; null for the net, and where none is known."),
    label: z.string().describe("What people call it."),
  })
  .meta({ id: "FigureRow", description: "The row whose figure it is." });

const Value = z.number().describe("In mL, of any sign; of what nobody measured, how often.");

const FIGURE = {
  row: FigureRow,
  start: InstantText.describe("The start of the interval."),
  end: InstantText.describe("Its end, which is not part of it."),
};

const Causes = z
  .array(Key)
  .describe(
    "The ids of the entries that moved it, in order of recording; where very much was recorded, of those that may have. None where only the version of the calculation is another.",
  );

const Digest = z
  .string()
  .regex(/^[0-9a-f]{64}$/)
  .describe("SHA-256 of the figures, in lower-case hex.");

const OpenFinding = z
  .strictObject({
    finding: z.string().describe("The finding's id."),
    code: z.string().describe("What was found, by the code of the finding."),
    sentence: z.string().describe("What was found, in the words and numbers of then."),
  })
  .meta({ id: "OpenFinding", description: "A finding that was open when a span was signed." });

const UnknownMinutes = z
  .strictObject({
    key: z.string().nullable().describe("The line; null where none is known."),
    label: z.string().describe("What people call it."),
    minutes: z.number().gt(0).describe("Minutes of which nobody knows what flowed."),
  })
  .meta({ id: "UnknownMinutes", description: "How long nobody knows what a line delivered." });

const Unmeasured = z
  .strictObject({
    key: z.string().nullable().describe("The category; null where none is known."),
    label: z.string().describe("What people call it."),
    occurrences: z.int().min(1).describe("How often nobody measured."),
  })
  .meta({ id: "SignedUnmeasured", description: "What came out, or went in, and nobody measured." });

const SIGNED = {
  id: Key,
  unit: Key.describe("The unit whose time it was, as of then: a unit signs for its own."),
  signedAt: InstantText.describe("When it was recorded."),
  by: Author,
  from: InstantText.describe("From when it covers the figures."),
  to: InstantText.describe("Up to when."),
  digest: Digest,
  calculation: z.string().describe("The version of the calculation that made the figures."),
  remark: z
    .string()
    .optional()
    .describe("What the person who signed had to say; absent where they said nothing."),
  open: z.array(OpenFinding).describe("What was open."),
  unknown: z.array(UnknownMinutes).describe("What nobody knew."),
  unmeasured: z.array(Unmeasured).describe("What nobody had measured."),
};

const { conventions } = BalanceAnswer.shape;

export const SeenFigure = z
  .strictObject({ ...FIGURE, seen: Value, now: Value })
  .meta({ id: "SeenFigure", description: "A figure that is not what somebody looked at." });

const SignedFigure = z
  .strictObject({ ...FIGURE, signed: Value, now: Value, causes: Causes })
  .meta({ id: "SignedFigure", description: "A figure that was signed and is another now." });

const Standing = z
  .strictObject({
    from: InstantText,
    to: InstantText,
    unit: Key.describe("The unit whose time it is now."),
    state: z.enum(["final", "corrected"]).describe("Whether it is as it was signed."),
    lost: z
      .enum(["other-unit", "hour-cut"])
      .optional()
      .describe(
        "Why the signature does not speak for it any more, whatever its figures are: it is another unit's time by now, or of an hour that was signed as one.",
      ),
  })
  .meta({ id: "SignatureStands", description: "Time for which a signature stands, and no later one." });

const Signature = z
  .strictObject({
    ...SIGNED,
    sequence: z.int().min(1).describe("Its place in the chain."),
    state: z
      .enum(["final", "corrected", "replaced"])
      .describe(
        "What it stands for in this shift is as it was signed; some of it is not; or later signatures stand for all of it.",
      ),
    stands: z.array(Standing).describe("The time in this shift for which it stands."),
    conventions,
    differences: z.array(SignedFigure).describe("Every figure that is another now."),
  })
  .meta({
    id: "Signature",
    description: "Who signed which span of a shift, and what became of its figures.",
  });

const State = z
  .enum(["preliminary", "final", "corrected"])
  .describe("Not all of it is signed; all is, and as it was signed; or a signed figure is another now.");

const ShiftVolumes = Volumes.pick({ intervals: true, rows: true, sums: true, total: true }).meta({
  id: "ShiftVolumes",
  description: "What each line delivered, by the hour.",
});

const ShiftTotals = Totals.pick({ at: true, channels: true, chambers: true }).meta({
  id: "ShiftTotals",
  description:
    "Every channel's running totals, and every chamber, at the end of the shift, or as far as it has come.",
});

const ShiftBalance = BalanceAnswer.omit({
  ...{ zone: true, from: true, to: true, asOf: true, until: true },
}).meta({ id: "ShiftBalance", description: "The balance by the hour." });

export const ShiftAnswer = z
  .strictObject({
    shift: z.string().describe("Such as `2026-03-04/day`."),
    date: z.string().describe("The date on which it starts."),
    name: z.string().describe("The name of the shift among those of its unit, such as `day`."),
    label: z.string().describe("What people call it."),
    start: InstantText,
    end: InstantText,
    zone: z.string().describe("The zone of the unit's clocks."),
    asOf: AsOf,
    until: Until,
    state: State,
    volumes: ShiftVolumes,
    totals: ShiftTotals,
    balance: ShiftBalance,
    findings: z.array(Finding).describe("What is found of it, open or acknowledged."),
    openQuestions: z
      .array(z.string())
      .describe("The ids of findings that are questions and wait for an answer: signing needs a remark."),
    unknown: z.array(UnknownMinutes).describe("Of what would be signed: what nobody knows."),
    unmeasured: z.array(Unmeasured).describe("Of what would be signed: what nobody measured."),
    signatures: z.array(Signature).describe("In order of recording."),
    toSign: z
      .strictObject({ from: InstantText, to: InstantText, digest: Digest })
      .nullable()
      .describe(
        "What the next signature of the caller's would cover; null where there is nothing that they may sign.",
      ),
  })
  .meta({ id: "ShiftFigures", description: "A shift of a stay: figures, balance, findings and signatures." });

export const SignatureAnswer = z
  .strictObject({
    ledger: LedgerHead,
    shift: z.string().describe("The shift that was signed, such as `2026-03-04/day`."),
    ...SIGNED,
    state: State.describe("How the shift is signed now."),
  })
  .meta({ id: "SignatureRecorded", description: "The span is signed." });

const ChangedFigure = z
  .strictObject({ ...FIGURE, before: Value, after: Value, causes: Causes })
  .meta({ id: "ChangedFigure", description: "A figure that is not what it was." });

export const Changes = z
  .strictObject({
    since: AsOf.omit({ calculation: true }).meta({
      id: "Since",
      description: "What was known at the earlier moment.",
    }),
    asOf: AsOf,
    until: Until,
    entries: z.array(RecordedEntry).describe("Recorded in between, in that order."),
    figures: z
      .array(ChangedFigure)
      .describe(
        "Every figure they moved, also of time before what they tell happened (a reading says what was delivered since its mark): by the hour for three days from the shift on in which the first may move, then by the shift.",
      ),
  })
  .meta({ id: "Changes", description: "What changed between two moments of recording." });
