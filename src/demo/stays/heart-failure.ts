/**
 * Demo Patient H, acute heart failure: nitroglycerin by dose, taken down and hung again with what it held,
 * a diuretic from a syringe, potassium and magnesium one after the other, two charting errors put right.
 * Goes on to another hospital in the second shift. 95 kg.
 *
 * At 200 micrograms in a millilitre, 20 ug/min of nitroglycerin are 6 mL/h.
 */

import { hang, line, pump, syringe, takeDown } from "../access.js";
import { amend, drank, out, voided, weighs } from "../charting.js";
import { dose, shows, start, startDose, stop, therapy } from "../flows.js";
import { furosemide, magnesiumSulfate, nitroglycerin, potassiumChloride } from "../fluids.js";
import { at, nurse, type Story } from "../story.js";

export const heartFailure: Story = {
  id: "demo-h",
  bed: "8",
  patient: "Demo Patient H",
  admitted: "1+00:05",
  kilograms: 95,
  told: [
    nurse(
      "1+00:35",
      at(
        "1+00:10",
        line("hand", "Left hand 20 G"),
        line("midline", "Right upper arm midline"),
        pump("pump-1", "hand"),
        syringe("syringe-1", "midline"),
        pump("pump-2", "midline"),
      ),
      at("1+00:20", hang("pump-1", "nitroglycerin-1", nitroglycerin), startDose("pump-1", 20, "ug/min")), // 6 mL/h
      at("1+00:30", hang("syringe-1", "furosemide-1", furosemide), startDose("syringe-1", 10, "mg/h")), // 2 mL/h
    ),
    nurse("1+00:41", at("1+00:40", dose("pump-1", 40, "ug/min"))), // 12 mL/h
    nurse("1+01:10", dose("pump-1", 60, "ug/min")), // 18 mL/h
    nurse("1+02:05", at("1+02:00", out("urine", 700))),
    nurse("1+05:00", shows("pump-1", 77), dose("pump-1", 40, "ug/min"), out("urine", 8_500)),
    nurse(
      "1+05:20",
      amend({ name: "urine", at: "1+05:00" }, "typed one zero too many", out("urine", 850), "1+05:00"),
    ),
    nurse("1+06:02", at("1+06:00", hang("pump-2", "potassium-1", potassiumChloride), start("pump-2", 50))),
    nurse("1+08:05", at("1+08:00", dose("pump-1", 20, "ug/min"), out("urine", 600))),
    nurse(
      "1+08:12",
      at(
        "1+08:10",
        shows("pump-2", 100),
        therapy("pump-2"),
        hang("pump-2", "magnesium-1", magnesiumSulfate),
        start("pump-2", 25),
      ),
    ),
    nurse("1+08:30", at("1+08:15", out("urine", 600)), drank(180, "tea")),
    nurse(
      "1+08:40",
      voided({ name: "urine", at: "1+08:15" }, "charted twice: the same 600 as at the hour before"),
    ),
    nurse("1+10:15", shows("pump-2", 50), takeDown("magnesium-1", 0)),
    nurse(
      "1+11:02",
      at("1+11:00", shows("pump-1", 131), stop("pump-1"), takeDown("nitroglycerin-1", 119)),
      at("1+11:00", out("urine", 450)),
    ),
    nurse("1+12:00", shows("syringe-1", 23)),
    nurse(
      "2+01:03",
      at(
        "2+01:00",
        hang("pump-1", "nitroglycerin-1", nitroglycerin, { remaining: 119 }),
        startDose("pump-1", 20, "ug/min"),
      ),
    ),
    nurse("2+04:01", at("2+04:00", shows("syringe-1", 31), stop("syringe-1"), takeDown("furosemide-1", 19))),
    nurse("2+06:01", at("2+06:00", shows("pump-1", 161), stop("pump-1"), takeDown("nitroglycerin-1", 89))),
    nurse("2+08:00", weighs(91.9), out("urine", 980)),
  ],
  turns: [{ at: "2+10:00", change: { discharged: true } }],
};
