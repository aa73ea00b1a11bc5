/** Every route of the API, in the order of its description. */

import { done } from "../ledger/refusal.js";
import { Me } from "../wire/answers/callers.js";
import { BALANCE } from "./balance.js";
import { CHARTS } from "./charts.js";
import { COMPUTED } from "./computed.js";
import { ENCOUNTERS } from "./encounters.js";
import { ENTRIES } from "./entries.js";
import { ME_EXAMPLE } from "./examples.js";
import { EXPLAINED } from "./explained.js";
import { FINDINGS } from "./findings.js";
import { type AnyRoute, route } from "./route.js";
import { UNITS } from "./units.js";

const ME = route({
  method: "GET",
  path: "/v1/me",
  operation: "getMe",
  tag: "Service",
  summary: "Who the token belongs to",
  description: "The caller as entries will name it, its role, and the only unit it may act on.",
  answers: [{ status: 200, description: "The caller.", schema: Me, example: ME_EXAMPLE }],
  problems: [],
  handle: async (_, { caller: { id, name, role, unit } }) =>
    done({ status: 200, body: { id, name, role, unit } }),
});

export const ROUTES: readonly AnyRoute[] = [
  ...ENCOUNTERS,
  ...ENTRIES,
  ...COMPUTED,
  ...BALANCE,
  ...EXPLAINED,
  ...CHARTS,
  ...FINDINGS,
  ...UNITS,
  ME,
];
