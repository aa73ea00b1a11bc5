/**
 * Every text of the page, in one place. Plain sentences in the present tense, numbers with their units
 * written out by numbers.ts, no abbreviation the trade lists as error-prone.
 */

import type { Basis, ChannelNow, Role, RunningTotal } from "./answers.js";
import { figure, tenths } from "./numbers.js";

const roles: Record<Role, string> = {
  primary: "primary",
  secondary: "secondary",
  bolus: "bolus",
  "keep-open": "keep open",
};

const reasons: Record<string, string> = {
  "end-unconfirmed": "nobody confirmed that it ended",
  "rate-unknown": "the rate is not known",
  unread: "the device was not read since",
  away: "the patient was away",
};

const totals: Record<RunningTotal["total"], string> = {
  primary: "Primary",
  secondary: "Secondary",
  combined: "Both together",
};

const delivering: Record<ChannelNow["delivering"], string> = {
  nothing: "Nothing is flowing",
  primary: "",
  secondary: "Secondary: ",
  bolus: "Bolus: ",
};

const bases: Partial<Record<Basis, string>> = {
  computed: "outline: computed from rates",
  apportioned: "lines: shared out between readings",
  measured: "filled: read off the device",
  disputed: "crossed: reading and rates disagree",
};

export const words = {
  title: "Shift infusion ledger",
  invented: "Demo data, invented. No such patients exist.",
  roles,
  reasons,
  totals,
  delivering,
  bases,

  signIn: {
    heading: "Sign in",
    username: "Name",
    password: "Password",
    button: "Sign in",
    empty: "Enter your name first.",
    ended: "You were signed out, since nobody used this page for a while. Sign in again.",
    wait: (seconds: string) => `Too many attempts failed. Try again in ${seconds} s.`,
    atProvider: "Sign in with your hospital account",
    tokenInstead: "With a token instead",
    token: "Access token",
    hint: "Whoever runs the ledger gives you one. It is kept until this tab is closed.",
    withToken: "Use this token",
    refused: "That token is not accepted, or no longer. Sign in, or enter another one.",
    out: "Sign out",
  },

  patients: {
    heading: "Patients",
    unit: "Unit",
    discharged: "Show discharged patients too",
    back: "All patients",
    noneOpen: "Nobody is admitted to this unit at present.",
    none: "This unit has no patients yet.",
    noUnits: "There is no unit you may see yet. An administrator opens one.",
    bed: (bed: string | null | undefined) => (bed ? `Bed ${bed}` : "No bed"),
    since: (when: string) => `since ${when}`,
    until: (when: string) => `discharged ${when}`,
    left: (unit: string, when: string) => `now in ${unit}, left here at ${when}`,
  },

  shift: {
    label: "Shift",
    earlier: "Earlier shift",
    later: "Later shift",
    none: "This stay has no shift yet.",
    asOf: (clock: string) => `Computed up to ${clock}`,
    refresh: "Refresh",
  },

  now: {
    heading: (clock: string, running: boolean) =>
      running
        ? `Now, ${clock}: what the devices should show`
        : `End of the shift, ${clock}: what the devices should show`,
    none: "No channel is connected.",
    unidentified: "unidentified fluid",
    flow: (rate: number | null, fluid: string) =>
      rate === null ? `${fluid}, rate not known` : `${figure(rate)} mL/h of ${fluid}`,
    drops: (rate: number) => `${figure(rate)} drops a minute`,
    left: (volume: number) => `about ${tenths(volume)} mL left in the bag`,
    empty: (clock: string) => `empty about ${clock}`,
    ends: (clock: string) => `ends about ${clock}`,
    unknown: "not known",
    never: "Never written down.",
    allRead: "All of it is written down.",
    lastReading: (volume: number) => `Last written down: ${tenths(volume)} mL.`,
    atRisk: (volume: number, since: string | null) =>
      `${tenths(volume)} mL not written down${since === null ? "" : ` since ${since}`}.`,
  },

  hours: {
    heading: "Delivered by line and hour",
    mL: "mL",
    line: "Line",
    total: "Shift",
    sum: "All lines",
    soFar: "so far",
    atLeast: "at least",
    noLine: "No line",
    unknown: (minutes: string) => `${minutes} not known`,
    nothing: "Nothing is recorded for this shift.",
    caption: "Volume delivered per line and hour, in mL. Cells are blank for hours still to come.",
    picture: (line: string) => `${line}: rates over the shift. The same in words below the table.`,
    now: (clock: string) => `now ${clock}`,
    square: (volume: number) => `this square is ${figure(volume)} mL`,
    primary: "primary",
    added: "secondary or bolus",
    hint: "Area is volume. Point at a band, or tap it, to read what it is.",
    inWords: "The same in words",
  },

  flow: {
    sentence: (from: string, to: string, role: Role, fluid: string, rate: number | null, volume: number) =>
      `${from} to ${to}: ${roles[role]}, ${fluid}, ${rate === null ? "rate not known" : `${figure(rate)} mL/h`}, ${tenths(volume)} mL`,
    unknown: (from: string, to: string, minutes: string, reason: string) =>
      `${from} to ${to}: ${minutes} not known, because ${reasons[reason] ?? "it is not recorded"}`,
  },

  failed: {
    title: "The figures cannot be shown.",
    noAnswer: "The ledger does not answer. This page only reads, so nothing was changed.",
    unread: "The answer cannot be read by this page.",
    status: (status: number) => `The ledger answered with status ${status}.`,
    stale: (clock: string) => `The figures below are as they were at ${clock}.`,
    again: "Try again",
  },
  loading: "Loading",

  caution:
    "This ledger documents. It controls no device, doses no drug and gives no advice on treatment. A computed volume " +
    "is an estimate from what was recorded: look at the device, the bag and the patient first. Local policy and " +
    "licensed practice decide.",
};
