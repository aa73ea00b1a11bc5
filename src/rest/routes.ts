/** Every route of the API, in the order of its description. */

import { ACCESSES } from "./accesses.js";
import { ACCOUNTS } from "./accounts.js";
import { AUDIT } from "./audit.js";
import { BALANCE } from "./balance.js";
import { CHARTS } from "./charts.js";
import { COMPUTED } from "./computed.js";
import { ENCOUNTERS } from "./encounters.js";
import { ENTRIES } from "./entries.js";
import { EXPLAINED } from "./explained.js";
import { EXPORTED } from "./exported.js";
import { FINDINGS } from "./findings.js";
import { PROVIDER } from "./provider.js";
import type { AnyRoute } from "./route.js";
import { SESSION } from "./session.js";
import { SHIFTS } from "./shifts.js";
import { UNITS } from "./units.js";

export const ROUTES: readonly AnyRoute[] = [
  ...ENCOUNTERS,
  ...ENTRIES,
  ...COMPUTED,
  ...BALANCE,
  ...EXPLAINED,
  ...CHARTS,
  ...FINDINGS,
  ...SHIFTS,
  ...EXPORTED,
  ...UNITS,
  ...AUDIT,
  ...ACCESSES,
  ...SESSION,
  ...PROVIDER,
  ...ACCOUNTS,
];
