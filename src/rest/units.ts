/** Units: wards with their clocks, their shifts and what they have decided about their charts. */

import { Readable } from "node:stream";
import { z } from "zod";
import { done } from "../ledger/refusal.js";
import { StoreUnavailable } from "../store/store.js";
import { Next } from "../wire/answers/head.js";
import { Key } from "../wire/text.js";
import { UnitAnswer, UnitBody, UnitPatch } from "../wire/units.js";
import { badHeader } from "./conditions.js";
import { idempotencyKey } from "./idempotency.js";
import { listed } from "./lists.js";
import { limitOf, PAGE } from "./parameters.js";
import { type AnyRoute, bodyOf, route } from "./route.js";
import { sent } from "./written.js";

const UnitList = z
  .strictObject({
    units: z
      .array(UnitAnswer)
      .describe("A page of the units within reach, in order of their ids; empty where there are none."),
    next: Next,
  })
  .meta({ id: "UnitList", description: "Units, in order of their ids." });

const UnitEvent = z
  .strictObject({
    encounter: Key.describe("The encounter of which something was recorded."),
    sequence: z.int().min(1).describe("The last entry of its chain by then: ask for what came before it."),
  })
  .meta({ id: "UnitEvent", description: "That something was recorded of an encounter, and not what." });

export const UNITS: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/units",
    operation: "listUnits",
    tag: "Units",
    summary: "List units",
    description: "The units that the token is good for, in order of their ids, each as it is now.",
    query: z.strictObject(PAGE),
    answers: [{ status: 200, description: "A page of units.", schema: UnitList, headers: ["Link"] }],
    problems: [],
    handle: async (ledger, { caller, query, url }) => {
      const page = await ledger.units(caller, query.after ?? null, limitOf(query));
      return done(listed({ units: page.items }, page.next, url));
    },
  }),
  route({
    method: "POST",
    path: "/v1/units",
    operation: "openUnit",
    tag: "Units",
    summary: "Open a unit",
    description:
      "A unit has a zone, which stays what it is, and shifts that tile the day. Settings that are left out have their defaults.",
    headers: ["Idempotency-Key"],
    body: bodyOf(UnitBody, "The unit."),
    answers: [{ status: 201, description: "The unit is open.", schema: UnitAnswer, headers: ["Location"] }],
    problems: ["id-exists"],
    handle: async (ledger, asked) => {
      const key = idempotencyKey(asked);
      if (key.refused) return key;
      return sent(await ledger.openUnit(asked.caller, asked.body, key.done), "/v1/units");
    },
  }),
  route({
    method: "GET",
    path: "/v1/units/{unit}",
    operation: "getUnit",
    tag: "Units",
    summary: "Read a unit",
    description: "A unit as it is now, with every setting in force.",
    answers: [{ status: 200, description: "The unit.", schema: UnitAnswer }],
    problems: [],
    handle: async (ledger, { ids }) => {
      const unit = await ledger.unit(ids.unit ?? "");
      return unit.refused ? unit : done({ status: 200, body: unit.done });
    },
  }),
  route({
    method: "PATCH",
    path: "/v1/units/{unit}",
    operation: "changeUnit",
    tag: "Units",
    summary: "Change a unit",
    description:
      "Settings and shifts change from an instant on, also a past one: figures from then on are computed by them. `boundary` and shifts change only where a shift starts.",
    body: bodyOf(UnitPatch, "What changes, and from when."),
    answers: [{ status: 200, description: "The unit as it is now.", schema: UnitAnswer }],
    problems: [],
    handle: async (ledger, { caller, ids, body }) =>
      sent(await ledger.changeUnit(caller, ids.unit ?? "", body)),
  }),
  route({
    method: "GET",
    path: "/v1/units/{unit}/stream",
    operation: "streamUnit",
    tag: "Units",
    summary: "Hear what is recorded of a unit's patients",
    description:
      "Server-sent events, one for each encounter of which something was recorded, within a second of it; nothing of what it was. An event's id is for `Last-Event-ID` alone. A stream ends after five minutes and is then asked for again, so that who may no longer see the unit is turned away; a line that begins with a colon only keeps it open.",
    headers: ["Last-Event-ID"],
    answers: [
      {
        status: 200,
        description: "Events, until it ends; the schema is that of the data of one.",
        schema: UnitEvent,
        media: "text/event-stream",
      },
    ],
    problems: [],
    handle: async (_, { ids, headers, streams }) => {
      const sent = headers["last-event-id"];
      if (sent !== undefined && !(typeof sent === "string" && /^\d{1,15}$/.test(sent))) {
        return badHeader("Last-Event-ID", "must be the id of an event of this stream.");
      }
      if (!streams.haveRoom) throw new StoreUnavailable("as many streams as there may be are open");
      const text = streams.of(ids.unit ?? "", sent === undefined ? null : Number(sent));
      // A proxy that waits until there is enough to pass on would hold events back.
      const told = { "content-type": "text/event-stream; charset=utf-8", "x-accel-buffering": "no" };
      return done({ status: 200, body: Readable.from(text, { objectMode: false }), headers: told });
    },
  }),
];
