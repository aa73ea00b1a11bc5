/**
 * The page: a client of the public API like any other. Shows the view the address names (sign-in, the
 * patients of a unit, or one patient's shift) and asks again every minute while that shift runs.
 */

import { addressOf, type Choice, choiceIn } from "./address.js";
import { Client, Refused, SignedOut } from "./client.js";
import { element } from "./elements.js";
import { frameIn } from "./frame.js";
import { bringNowIntoSight, replaceKeeping } from "./keeping.js";
import { watchLeaving } from "./leaving.js";
import { patientsSection } from "./patients.js";
import { signInForm } from "./sign-in.js";
import { askForStay, isRunning, type StayView, staySections } from "./stay.js";
import { currentToken, forgetToken, keepToken } from "./token.js";
import { clock } from "./wall.js";
import { words } from "./words.js";

const MINUTE = 60_000;

const frame = frameIn(document.getElementById("page")!);
let choice = choiceIn(location.search);
/** The stay on display, for drawing it again at another width or over a failure. */
let view: StayView | null = null;
let asking = new AbortController();
/** Whether somebody is signed in, as far as this page has seen. */
let signedIn = false;

/** Shows something else; a `step` to another shift of the same stay leaves the controls where they are. */
function go(next: Partial<Choice>, step = false): void {
  choice = { ...choice, ...next };
  history.pushState(null, "", location.pathname + addressOf(choice));
  if (step) frame.main.setAttribute("aria-busy", "true");
  void show(step);
}

/**
 * Asks for what the address names and shows it; `quietly` leaves the old view standing meanwhile, and
 * `attended` says that a person asked.
 */
async function show(quietly = false, attended = true): Promise<void> {
  asking.abort();
  asking = new AbortController();
  const { signal } = asking;
  if (!quietly) beginLoading();
  try {
    const client = new Client(currentToken(), attended);
    await (choice.encounter === null ? showPatients : showStay)(client, signal);
    signedIn = true;
    if (!signal.aborted) frame.fail(null);
  } catch (failure) {
    if (!signal.aborted) explain(failure);
  } finally {
    if (!signal.aborted) frame.main.removeAttribute("aria-busy");
  }
}

function beginLoading(): void {
  view = null;
  frame.fail(null);
  frame.tell("");
  frame.main.setAttribute("aria-busy", "true");
  frame.main.replaceChildren(element("p", { class: "empty" }, words.loading));
  frame.offer([]);
}

function askWho(told: string | null): void {
  view = null;
  signedIn = false;
  frame.offer([]);
  frame.tell("");
  frame.fail(null);
  frame.announceUnit(null);
  const enter = (token: string) => {
    keepToken(token);
    void show();
  };
  const signIn = async (username: string, password: string) => {
    await Client.signIn(username, password);
    await show();
  };
  frame.main.replaceChildren(signInForm(told, { provider: Client.provider(), signIn, enter }));
  frame.main.querySelector("input")?.focus();
}

function explain(failure: unknown): void {
  if (failure instanceof SignedOut) {
    const byToken = currentToken() !== null;
    forgetToken();
    return askWho(byToken ? words.signIn.refused : signedIn ? words.signIn.ended : null);
  }
  if (view !== null) draw();
  else {
    frame.main.replaceChildren();
    frame.offer(choice.encounter === null ? [signOut] : [back, signOut]);
  }
  const stale = view?.shown ? ` ${words.failed.stale(clock(view.shown.answers.lines.until))}` : "";
  const known = failure instanceof Refused ? failure : new Refused(words.failed.title, words.failed.unread);
  frame.fail({ title: known.title, detail: known.detail + stale, again: () => void show(view !== null) });
  if (known !== failure) console.error(failure);
}

const signOut = {
  text: words.signIn.out,
  act: () => {
    if (currentToken() === null) void Client.signOut();
    forgetToken();
    asking.abort();
    askWho(null);
  },
};
const back = { text: words.patients.back, act: () => go({ encounter: null, shift: null }) };
const refresh = { text: words.shift.refresh, act: () => void show(true) };

async function showPatients(client: Client, signal: AbortSignal): Promise<void> {
  const units = await client.units(signal);
  const unit = units.find((one) => one.id === choice.unit) ?? units[0];
  const encounters = unit === undefined ? [] : await client.encounters(unit.id, !choice.discharged, signal);
  frame.announceUnit(unit?.name ?? null);
  frame.offer([signOut]);
  if (unit === undefined) {
    frame.main.replaceChildren(element("p", { class: "empty" }, words.patients.noUnits));
    return;
  }
  const chosen = { units, unit: unit.id, encounters, discharged: choice.discharged };
  const open = (encounter: string) => go({ encounter, shift: null });
  frame.main.replaceChildren(patientsSection({ ...chosen, choose: go, open }));
  frame.main.querySelector("h1")?.focus();
}

async function showStay(client: Client, signal: AbortSignal): Promise<void> {
  const [asked, units] = await Promise.all([
    askForStay(client, choice.encounter!, choice.shift, signal),
    client.units(signal),
  ]);
  const first = view === null;
  view = asked;
  frame.announceUnit(units.find((unit) => unit.id === asked.stay.unit)?.name ?? null);
  frame.offer([refresh, back, signOut]);
  draw();
  if (!first) return;
  frame.main.querySelector("h1")?.focus();
  bringNowIntoSight(frame.main);
}

/** Draws the stay at the present width. */
function draw(): void {
  if (view === null) return;
  const choose = (shift: string) => go({ shift }, true);
  replaceKeeping(frame.main, staySections(view, frame.main.clientWidth, choose));
  if (view.shown) frame.tell(words.shift.asOf(clock(view.shown.answers.lines.until)));
}

let width = 0;
new ResizeObserver(() => {
  if (frame.main.clientWidth === width) return;
  width = frame.main.clientWidth;
  draw();
}).observe(frame.main);

addEventListener("popstate", () => {
  choice = choiceIn(location.search);
  void show();
});
addEventListener("hashchange", () => void show());

setInterval(() => {
  const running = view?.shown && isRunning(view.shown.answers.lines);
  if (running && document.visibilityState === "visible") void show(true, false);
}, MINUTE);

watchLeaving((attended) => {
  if (!signedIn || currentToken() !== null) return;
  new Client(null, attended).me(asking.signal).catch((failure: unknown) => {
    if (failure instanceof SignedOut) explain(failure);
  });
});

void show();
