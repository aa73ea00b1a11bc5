/**
 * Signing: a nurse's statement over the figures of a span of a shift. What is signed is what was looked at,
 * by its digest; the figures themselves are kept, with what they rest on and what was open.
 */

import { CALCULATION } from "../infusion/calculation.js";
import type { Inquiry } from "../store/store.js";
import { type Instant, later, type Period } from "../time/instant.js";
import { type ShiftSpan, shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import type { Fault } from "../wire/fault.js";
import { readInstant } from "../wire/instant.js";
import type { ShiftSignedText } from "../wire/signed.js";
import { chainOf } from "./acknowledgements.js";
import { conventionsText } from "./balance-beside-text.js";
import { othersSpan } from "./charting.js";
import { type Coordinates, coordinates } from "./coordinates.js";
import { digestOfFigures, figuresText, movedBetween, unmeasuredIn } from "./figures.js";
import type { FindingText } from "./finding-text.js";
import { toldOf } from "./findings.js";
import { restsOn } from "./held.js";
import { type Answered, adding, nothing, type Request } from "./own-entries.js";
import { done, type Outcome, refused } from "./refusal.js";
import { concerns, namedShift, openQuestions, signedOf, type ToSign, toBeSigned } from "./shift.js";
import { type Laid, lastOf, nextOf, stateOf, theirs } from "./signable.js";
import { placeText, valueText } from "./signature-text.js";
import { signatureOf } from "./signatures.js";
import { figuresAsOf } from "./steps.js";

export interface SignatureBody {
  /** The digest of the answer that was looked at. */
  readonly digest: string;
  readonly remark?: string | undefined;
  /** Up to when; absent, the end of the shift, which must be over. */
  readonly to?: string | undefined;
}

type SigningRequest = Request & {
  readonly encounter: string;
  readonly shift: string;
  readonly body: SignatureBody;
  /** The only units the caller may act on; null for every unit. */
  readonly units: readonly string[] | null;
};

/** Signs a span of a shift: one entry of the ledger's own. */
export function* sign(request: SigningRequest): Answered {
  const { encounter, body, now } = request;
  const chain = chainOf(encounter);
  const resolved = yield* coordinates(chain, {}, now);
  if (resolved.refused) return nothing(resolved);
  const at = resolved.done;
  const shift = namedShift(at, request.shift);
  if (shift === undefined)
    return nothing(refused({ problem: "not-found", what: "shift", id: request.shift }));
  const { laid } = yield* signedOf(at, shift);
  const chosen = chosenSpan(body, laid, request.units, at);
  if (chosen.refused) return nothing(chosen);
  const { piece, span } = chosen.done;
  const next = yield* toBeSigned(at, piece, span);
  const digest = digestOfFigures(next.figured);
  if (digest !== body.digest) return nothing(yield* changed(at, next, digest, body.digest));
  const found = (yield* toldOf(at)).filter((one) => concerns(one, span) && !SETTLED_BY_SIGNING.has(one.code));
  const questions = openQuestions(found);
  if (questions.length > 0 && body.remark === undefined) return nothing(unanswered(questions));
  const signed = yield* signedText(at, request, next, digest, found);
  const write = yield* adding(chain, signed, request);
  const { id, sequence, digest: head } = write.row;
  const zone = shiftAt(at.facts.conventions.stretches, now).zone;
  const { author } = request;
  const after = yield* signedOf(at, shift, [signatureOf(write.row)]);
  const answer = {
    ledger: { sequence, digest: head },
    id,
    shift: request.shift,
    unit: signed.unit,
    from: signed.from,
    to: signed.at,
    signedAt: formatInstant(now, zone),
    by: { id: author.id, name: author.name, role: author.role },
    digest,
    calculation: signed.calculation,
    ...(signed.remark === undefined ? {} : { remark: signed.remark }),
    open: signed.open,
    unknown: signed.unknown,
    unmeasured: unmeasuredIn(next.figured),
    state: stateOf(after.laid),
  };
  return { writes: [write], answer: done({ status: 201, body: JSON.stringify(answer), sequence, id: null }) };
}

/** Findings that a signature of the time they are about settles by being there. */
const SETTLED_BY_SIGNING: ReadonlySet<string> = new Set(["shift-unsigned", "signed-shift-changed"]);

type Chosen = Outcome<{ readonly piece: ShiftSpan; readonly span: Period }>;

/** The span that a request signs: of the caller's own pieces the one with `to` in it, or the first that is not signed. */
function chosenSpan(
  { to }: SignatureBody,
  laid: readonly Laid[],
  units: readonly string[] | null,
  { until, facts }: Coordinates,
): Chosen {
  const begins = laid[0]!.piece.start;
  if (begins >= until) return unfit("too-far-ahead", "The shift has not begun.");
  const end = to === undefined ? null : readInstant(to);
  if (end !== null && end > until) {
    return unfit("too-far-ahead", "What has not happened yet cannot be signed.");
  }
  const [own, isToBe] = [theirs(laid, units, facts, until), (one: Laid) => nextOf(one, until) !== undefined];
  const one =
    end === null
      ? (own.find(isToBe) ?? laid.find(isToBe) ?? own[0] ?? laid[0]!)
      : laid.find(({ piece }) => piece.start < end && end <= piece.end);
  if (one === undefined) {
    return unfit("inconsistent", "`to` must lie in the shift, and not after its end.");
  }
  const next = nextOf(one, until);
  const span = next && { start: next.start, end: end ?? next.end };
  const others = othersSpan(facts.conventions, units, span ?? one.piece, until);
  if (others !== undefined) return refused(others);
  if (span === undefined || span.start >= span.end) {
    const all = one.open.length === 0;
    return unfit("inconsistent", `Everything up to ${all ? "the end" : "then"} is signed, and unchanged.`);
  }
  if (end === null && lastOf(one.piece, facts) > until) {
    const detail = "The shift is not over: `to` says up to when, as the answer looked at has it.";
    return unfit("required", detail);
  }
  const cut = one.tiles
    .flatMap(({ intervals }) => intervals)
    .some((hour) => hour.start < span.end && span.end < hour.end);
  if (cut) return unfit("inconsistent", "`to` must not lie within an hour that is signed.");
  return done({ piece: one.piece, span });
}

function unfit(code: Fault["code"], detail: string) {
  return refused({ problem: "invalid-body", errors: [{ pointer: "#/to", code, detail }] });
}

/** How many entries are gone back for the figures that somebody looked at. */
const LOOKED_BACK = 24;

/** The figures are not those that were looked at: which ones, where they can still be told. */
function* changed(at: Coordinates, { figured }: ToSign, digest: string, seen: string) {
  const differences: object[] = [];
  const { upTo } = at.known;
  for (let sequence = upTo - 1; sequence > 0 && sequence >= upTo - LOOKED_BACK; sequence--) {
    const then = yield* figuresAsOf(at, sequence, figured.intervals);
    if (digestOfFigures(then) !== seen) continue;
    for (const one of movedBetween(then, figured)) {
      const { of } = one.row;
      const values = { seen: valueText(one.before, of), now: valueText(one.after, of) };
      differences.push({ ...placeText(one, at), ...values });
    }
    break;
  }
  const detail = "The figures are not those that were looked at; nothing was signed.";
  return refused({ problem: "digest-changed", detail, members: { digest, differences } });
}

function unanswered(questions: readonly FindingText[]) {
  const detail =
    questions.length === 1
      ? "A question is open; a remark must say why the figures may be signed all the same."
      : `${questions.length} questions are open; a remark must say why the figures may be signed all the same.`;
  return refused({ problem: "questions-open", detail, members: { questions } });
}

function* signedText(
  at: Coordinates,
  { shift, body }: SigningRequest,
  { piece, from, to, figured }: ToSign,
  digest: string,
  found: readonly FindingText[],
): Inquiry<ShiftSignedText> {
  const { settingsAt, stretches } = at.facts.conventions;
  const time = (instant: Instant) => formatInstant(instant, shiftAt(stretches, instant).zone);
  const { anchors, deliveries, unknown } = figured.window;
  const within = [...deliveries, ...unknown].filter(({ start, end }) => start < to && from < end);
  const channels = new Set([...within, ...anchors].map(({ channel }) => channel));
  const fromAdmission = from === at.facts.admittedAt;
  // What stands on the very start belongs to the signature before, of which the first has none.
  const span = { from: fromAdmission ? later(from, -1) : from, to, sequence: at.asOf.sequence + 1 };
  const open = found.filter(({ state }) => state === "open");
  return {
    kind: "shift-signed",
    at: time(to),
    from: time(from),
    ...(fromAdmission && { fromAdmission: true as const }),
    shift,
    unit: piece.unit,
    digest,
    calculation: CALCULATION,
    figures: figuresText(figured, at),
    conventions: conventionsText(at.facts.conventions, { start: from, end: to }, time),
    rests: yield* restsOn(at.known, span, { anchors, channels }, settingsAt, time),
    open: open.map(({ id, code, sentence }) => ({ finding: id, code, sentence })),
    unknown: figured.unknown,
    ...(body.remark === undefined ? {} : { remark: body.remark }),
  };
}
