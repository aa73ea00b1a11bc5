/**
 * What stands on printed sheets, in English, and around them while they are looked at: loaded with the print view
 * alone. The shape that every other language has too.
 */

export const enPrint = {
  titles: { handover: "Handover", chart: "Chart of the shift" },
  which: "Sheet",
  paper: "Paper",
  papers: { a4: "A4", letter: "US Letter" },
  print: "Print",
  save: "Save as PDF",
  saving: "Making the PDF…",
  notSaved: "The PDF could not be made.",
  stays: "A saved PDF stays on this computer until somebody deletes it.",
  back: "Back to the shift",
  page: (number: string, of: string) => `page ${number} of ${of}`,

  identifier: "Identifier",
  noName: "No name is recorded",
  atPresent: (place: string) => `At present: ${place}`,
  hours: (from: string, to: string, offset: string) => `${from} to ${to}, UTC${offset}`,
  hoursOverChange: (from: string, before: string, to: string, after: string) =>
    `${from} (UTC${before}) to ${to} (UTC${after})`,
  dated: (day: string, date: string) => `${day} (${date})`,
  notShown: (count: number, points: string) =>
    count === 1
      ? `One character of the name cannot be shown here (${points}). Go by the identifier.`
      : `${count} characters of the name cannot be shown here (${points}). Go by the identifier.`,
  identifierNotShown: (points: string) =>
    `The identifier has characters that cannot be shown here (${points}). Do not use this sheet to identify the patient.`,
  boxes: "□ stands for a character that this PDF's typeface does not have.",
  record: (entry: string, when: string, calculation: string, digest: string) =>
    `Known: ${entry} entries, the last recorded ${when}. Digest of the last: ${digest}. Calculation ${calculation}.`,
  computed: (when: string) => `computed up to ${when}`,
  printedBy: (name: string) => `Printed by ${name}.`,

  signature: "Signature",
  signed: (name: string, when: string, from: string, to: string) =>
    `Signed by ${name} ${when}, for ${from} to ${to}`,
  signatureStates: {
    final: "stands as signed",
    corrected: "figures changed since",
    replaced: "signed anew since",
  },
  remark: (text: string) => `Remark: ${text}`,
  digest: (digest: string) => `Digest of the figures: ${digest}`,
  changed: (count: number) =>
    count === 1 ? "1 signed figure is another now." : `${count} signed figures are others now.`,

  runs: "What runs",
  line: "Line",
  channel: "Channel",
  does: "What it does",
  bag: "Bag",
  labelled: "Labelled",
  delivered: "Delivered",
  left: "Left",
  emptyAbout: "Empty about",
  readOff: (clock: string) => `What the devices should show at ${clock}`,
  total: "Total",
  shows: "Should show",
  written: "Written down last",
  unwritten: "Not written down",
  sinceThen: (when: string) => `since ${when}`,
  read: "Read at handover",
  allWritten: "written down",
  waiting: (volume: string) => `${volume} read, waits for a decision`,
  chamber: (chamber: string, category: string, volume: string | null, when: string) =>
    `${chamber} (${category}) ${volume === null ? "was emptied" : `held ${volume}`} at ${when}; what came since only it knows.`,

  what: "What",
  act: "What was found, and what settles it",
  done: "Done, by whom",

  broughtForward: "Brought forward",
  whyNotExact:
    "“At least”, “at most” and “about” stand where minutes are not known or something was not measured, as listed below.",
  doubts: "Not known and not measured",
  noDoubts: "Every minute of the shift is known, and nothing was left unmeasured.",
  unknownMinutes: (line: string, minutes: string) => `${line}: ${minutes} not known.`,
  unmeasuredBefore: (times: string) => `Before this shift ${times} something was not measured.`,
  broughtForwardNotExact: "What is brought forward is not exact.",
  lostUnknown: (channel: string, from: string, to: string) =>
    `${channel}: what was lost from ${from} to ${to} is not known.`,
  irrigation: (site: string, instilled: string, drained: string, output: string, retained: string) =>
    `${site}: ${instilled} of irrigant put in, ${drained} drained, of which ${output} is output; ${retained} of irrigant is still there.`,
  besides: { "before-admission": "Before the admission", away: "Away" },
  beside: (when: string, intake: string, output: string) =>
    `${when}: intake ${intake}, output ${output}; in no hour, but in the net since admission.`,
  apart: (what: string, volume: string) => `${what}, ${volume}: in no total, by the unit's conventions.`,

  area: "Area is volume",
  part: (number: string, of: string) => `part ${number} of ${of}`,
  strokes: "Stroke under the figure of a line",
  noStroke: (what: string) => `none: ${what}`,
  ran: "What ran",
  when: "When",
  fluid: "Fluid",
  rate: "Rate",
  volume: "Volume",
  late: "Charted late",
  recorded: (clock: string, name: string) => `Recorded at ${clock} by ${name}.`,

  conventions: "Conventions in force",
  rounded: (step: string) => `Figures are rounded to ${step}, so that hours add up to the shift.`,
  boundary: {
    ends: "An amount charted exactly on the hour belongs to the hour that ends there.",
    starts: "An amount charted exactly on the hour belongs to the hour that starts there.",
  },
  ice: (share: string) => `Ice counts for ${share} of its volume.`,
  soft: (foods: string) => `Soft foods count for a share of theirs: ${foods}.`,
  weighed: "1 g weighs for 1 mL.",
  household: (measures: string) => `Measures: ${measures}.`,
  counts: {
    bloodProducts: ["Blood products are in no total.", "Blood products count as intake."],
    flushes: ["Flushes are in no total.", "Flushes count as intake."],
    returned: [
      "What was given back is taken off the output.",
      "What was given back is not taken off the output.",
    ],
  },
  never: "Irrigant is in no total, and insensible loss is never added.",
  heldFrom: (from: string, to: string) => `From ${from} to ${to}:`,

  notes: "Notes",
  handedOver: "Handed over by",
  takenOver: "Taken over by",
  charted: "Signature",
  dateAndTime: "Date and time",
};

/** The shape of a language's printed words. */
export type PrintWords = typeof enPrint;
