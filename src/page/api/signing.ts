/** Signing the figures that were looked at, by their digest. */

import type { components } from "../../../openapi/client.js";
import { client } from "./client.js";
import { answerOf } from "./problems.js";
import type { ShiftFigures } from "./shapes.js";

export type SeenFigure = components["schemas"]["SeenFigure"];

interface Signing {
  readonly encounter: string;
  /** "2026-03-04/day". */
  readonly shift: string;
  readonly toSign: NonNullable<ShiftFigures["toSign"]>;
  /** "" for none. */
  readonly remark: string;
}

export async function signShift({ encounter, shift, toSign: { digest, to }, remark }: Signing) {
  const [date = "", name = ""] = shift.split("/");
  return answerOf(
    client.POST("/v1/encounters/{encounter}/shifts/{date}/{shift}/signature", {
      params: { path: { encounter, date, shift: name } },
      body: { digest, to, ...(remark === "" ? {} : { remark }) },
    }),
  );
}
