/**
 * Every text of the pages, in English: the shape that every other language has too. Plain sentences in the
 * present tense, the same word for the same thing, no abbreviation the trade lists as error-prone. Numbers and
 * times arrive as text, written as the language writes them.
 */

import { findings, kinds } from "./en-ledger.js";
import { record, sign } from "./en-record.js";
import { asOf, changes, chart, history, round } from "./en-round.js";

export const en = {
  language: "English",
  title: "Shift infusion ledger",
  invented: "Demo data, invented. No such patients exist.",
  kinds,
  findings,
  record,
  sign,
  round,
  asOf,
  history,
  changes,
  chart,

  signIn: {
    heading: "Sign in",
    username: "Name",
    password: "Password",
    button: "Sign in",
    empty: "Enter your name first.",
    wrong: "The name or the password is not right.",
    ended: "You were signed out, since nobody used this page for a while. Sign in again.",
    wait: (seconds: string) => `Too many attempts failed. Try again in ${seconds} s.`,
    atProvider: "Sign in with your hospital account",
    tokenInstead: "With a token instead",
    token: "Access token",
    hint: "Whoever runs the ledger gives you one. It is kept until this tab is closed.",
    withToken: "Use this token",
    refused: "That token is not accepted, or no longer. Sign in, or enter another one.",
    out: "Sign out",
    as: (name: string) => `Signed in as ${name}`,
  },

  patients: {
    heading: "Patients",
    unit: "Unit",
    discharged: "Show discharged patients too",
    back: "All patients",
    noneOpen: "Nobody is admitted to this unit at present.",
    none: "This unit has no patients yet.",
    noUnits: "There is no unit you may see yet. An administrator opens one.",
    bed: (bed: string) => `Bed ${bed}`,
    noBed: "No bed",
    left: (unit: string, clock: string) => `now in ${unit}, left here at ${clock}`,
    since: (day: string) => `since ${day}`,
    until: (day: string) => `discharged ${day}`,
  },

  shift: {
    label: "Shift",
    earlier: "Earlier shift",
    later: "Later shift",
    print: "Handover and print",
    none: "This stay has no shift yet.",
    computedUpTo: (clock: string) => `Computed up to ${clock}`,
    over: "This shift is over.",
    states: {
      preliminary: "Not signed yet",
      final: "Signed",
      corrected: "Signed, and changed since",
    },
    on: (clock: string, day: string) => `${clock} on ${day}`,
  },

  toWrite: {
    heading: "To write down",
    now: (clock: string) => `What the devices should show now, ${clock}`,
    atEnd: (clock: string) => `What the devices should have shown at the end, ${clock}`,
    none: "Everything the devices counted is written down.",
    shouldShow: "should show",
    unwritten: (volume: string, since: string) => `${volume} not written down since ${since}`,
    unwrittenAtLeast: (volume: string, since: string) => `At least ${volume} not written down since ${since}`,
    last: (volume: string) => `Last written down: ${volume}.`,
    never: "Nothing is written down since it was connected or cleared.",
    waiting: (volume: string) => `A reading of ${volume} disagrees and waits for somebody to decide.`,
    totals: { primary: "Primary total", secondary: "Secondary total", combined: "Total" },
    done: (count: number) => (count === 1 ? "1 total is written down" : `${count} totals are written down`),
  },

  open: {
    heading: "Open",
    none: "Nothing is open.",
    severities: { question: "Question", attention: "Look at this", note: "Note" },
    settledBy: "What settles it",
    more: (count: number) => (count === 1 ? "1 more" : `${count} more`),
    other: "Another way",
    acknowledged: (name: string) => `Looked at by ${name}`,
  },

  lines: {
    heading: "Lines and bags",
    none: "No channel is connected.",
    noLine: "No line",
    nothing: "Nothing is flowing",
    holds: {
      none: "",
      paused: "paused",
      waiting: "waits for somebody to resume it",
      stopped: "stopped",
    },
    delivering: { nothing: "", primary: "Primary", secondary: "Secondary", bolus: "Bolus" },
    unidentified: "unidentified fluid",
    rateUnknown: "rate not known",
    drops: (rate: string) => `${rate} drops a minute`,
    disconnected: "not connected",
    labelled: "labelled",
    delivered: "delivered",
    left: "left",
    emptyAt: "empty about",
    endsAt: "ends about",
    noBag: "no bag is recorded",
  },

  balance: {
    heading: "Intake, output and urine",
    intake: "Intake",
    output: "Output",
    net: "Net",
    sinceAdmission: "Net since admission",
    urine: "Urine",
    lastHours: (hours: string) => `last ${hours}`,
    perWeight: "mL/kg/h",
    share: "Share of the weight at admission",
    unmeasured: (times: string, what: string) => `${what}: ${times}, not measured`,
    times: (count: number) => (count === 1 ? "once" : `${count} times`),
    lost: (volume: string, channel: string) => `${volume} of ${channel} did not reach the patient.`,
    weight: "Change of weight",
  },

  certainty: {
    exact: "",
    "at-least": "at least",
    "at-most": "at most",
    uncertain: "about",
  },

  bases: {
    measured: "read at both ends",
    apportioned: "shared out between readings",
    computed: "computed from rates",
    disputed: "reading and rates disagree",
    unknown: "not all of it is known",
  },

  roles: {
    primary: "primary",
    secondary: "secondary",
    bolus: "bolus",
    "keep-open": "keep open",
  },

  categories: {
    "iv-fluid": "Intravenous fluid",
    "iv-medication": "Intravenous medication",
    "iv-push": "Intravenous push",
    "iv-flush": "Intravenous flush",
    "blood-product": "Blood product",
    "parenteral-nutrition": "Parenteral nutrition",
    oral: "Oral",
    "enteral-feed": "Enteral feed",
    "enteral-water": "Enteral water",
    "other-intake": "Other intake",
    urine: "Urine",
    gastric: "Gastric",
    emesis: "Emesis",
    stool: "Stool",
    drain: "Drain",
    "chest-drain": "Chest drain",
    "blood-loss": "Blood loss",
    "fluid-removal": "Fluid removal",
    "other-output": "Other output",
    unidentified: "Unidentified fluid",
  },

  picture: {
    heading: "The hours",
    hint: "Area is volume, filled is written down. Point at a shape, or tap it, to read what it is.",
    square: (volume: string) => `this square is ${volume}`,
    primary: "primary",
    added: "secondary or bolus",
    legend: {
      measured: "filled: read at both ends",
      apportioned: "lines: shared out between readings",
      computed: "outline: only computed",
      disputed: "crossed: reading and rates disagree",
    },
    now: (clock: string) => `now ${clock}`,
    unknown: (minutes: string) => `${minutes} not known`,
    line: (line: string) => `${line}: rates over the shift`,
    amounts: "Measured in and out",
    amountsLabel: "Measured intake above the line and output below it, hour by hour",
    runningSums: "Running sums",
    runningLabel: (intake: string, output: string, net: string) =>
      `Sums since the start of the shift: intake ${intake}, output ${output}, net ${net}`,
    inWords: "The same in words",
    recorded: "Bags, readings and clears",
    amount: (from: string, to: string, what: string, volume: string) =>
      `${from} to ${to}: ${what}, ${volume}`,
    flow: (from: string, to: string, role: string, fluid: string, rate: string, volume: string) =>
      `${from} to ${to}: ${role}, ${fluid}, ${rate}, ${volume}`,
    gap: (from: string, to: string, minutes: string, reason: string) =>
      `${from} to ${to}: ${minutes} not known, because ${reason}`,
    reasons: {
      "end-unconfirmed": "nobody confirmed that it ended",
      "rate-unknown": "the rate is not known",
      unread: "the device was not read since",
      away: "the patient was away",
    },
    marks: {
      bag: "bag hung or taken down",
      reading: "written down",
      clear: "total cleared",
      late: "charted late, joined to when",
    },
    late: (clock: string) => `charted late, at ${clock}`,
  },

  table: {
    heading: "Hour by hour",
    unit: "mL",
    lines: "Delivered by line",
    balance: "Intake and output",
    allLines: "All lines",
    total: "Shift",
    soFar: "so far",
    captionLines: "Volume delivered per line and hour, in mL. Cells are blank for hours still to come.",
    captionBalance:
      "Intake and output per category and hour, in mL. Cells are blank for hours still to come.",
    cumulative: "Net since admission",
    nothing: "Nothing is recorded for this shift.",
    why: (row: string, interval: string, figure: string) => `${row}, ${interval}: ${figure}. Why?`,
    wholeShift: "the shift",
    keys: "Arrow keys move from figure to figure, Enter asks why.",
  },

  why: {
    close: "Close",
    computed: (volume: string) => `By rate and time alone: ${volume}.`,
    basis: "Rests on",
    delivered: "What ran",
    readings: "What was read",
    amounts: "What was measured",
    held: "Why nothing ran",
    unattributed: "What no flow can hold",
    entries: "Entries it is made of",
    parts: "What it consists of",
    rows: "Summed up",
    netIs: (intake: string, output: string, net: string) =>
      `Intake ${intake} less output ${output} is ${net}.`,
    cumulativeIs: (before: string, net: string, now: string) =>
      `${before} before this shift and ${net} since is ${now}.`,
    beside: "Amounts of a time that is in no hour",
    delivery: (from: string, to: string, rate: string, volume: string) =>
      `${from} to ${to}, ${rate}: ${volume}`,
    shows: (clock: string, shown: string, delivered: string) =>
      `At ${clock} it showed ${shown}, which is ${delivered} since the one before`,
    agrees: (computed: string) => `${computed} were computed`,
    by: (name: string, clock: string) => `recorded by ${name} at ${clock}`,
    unknown: (minutes: string) => `${minutes} are not known, so it is at least so much.`,
    expected: (last: string, flows: string, expected: string) =>
      `${last} read last and ${flows} computed since is ${expected}.`,
    expectedSinceClear: (flows: string, expected: string) =>
      `${flows} computed since it was cleared or connected, so it should show ${expected}.`,
    lostOff: (volume: string) => `${volume} that did not reach the patient is taken off.`,
    irrigant: "Irrigant that was put in is taken off.",
    counts: (share: string) => `counts as ${share} of what was taken`,
    holds: {
      paused: "paused",
      waiting: "waits for somebody to resume it",
      stopped: "stopped",
      disconnected: "not connected",
      ended: "nothing was left to run",
      "other-source": "the channel gave something else",
    },
  },

  failed: {
    title: "The figures cannot be shown.",
    noAnswer: "The ledger does not answer. Nothing was changed.",
    unread: "The answer cannot be read by this page.",
    forbidden: "Your role may not see this.",
    notFound: "There is no such patient, or none of yours.",
    status: (status: string) => `The ledger answered with status ${status}.`,
    stale: (clock: string) => `The figures below are as they were at ${clock}.`,
    again: "Try again",
  },
  loading: "Loading",
  languageChoice: "Language",

  caution:
    "This ledger documents. It controls no device, doses no drug and gives no advice on treatment. A computed volume " +
    "is an estimate from what was recorded: look at the device, the bag and the patient first. Local policy and " +
    "licensed practice decide.",
};

/** The shape of a language. */
export type Words = typeof en;
