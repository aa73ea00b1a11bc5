/** Units: wards with their clocks, their shifts and what they have decided about their charts. */

import { z } from "zod";
import { done } from "../ledger/refusal.js";
import { Next } from "../wire/answers/head.js";
import { UnitAnswer, UnitBody, UnitPatch } from "../wire/units.js";
import { idempotencyKey } from "./idempotency.js";
import { listed } from "./lists.js";
import { limitOf, PAGE } from "./parameters.js";
import { type AnyRoute, bodyOf, route } from "./route.js";
import { sent } from "./written.js";

const UnitList = z
  .strictObject({ units: z.array(UnitAnswer), next: Next })
  .meta({ id: "UnitList", description: "Units, in order of their ids." });

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
];
