/**
 * Demo Patient A, septic shock: a vasopressor titrated by dose on one central lumen, maintenance with
 * an antibiotic on another, an arterial line with its flush. 80 kg.
 *
 * At 80 kg and 32 micrograms in a millilitre, 0.01 ug/kg/min of norepinephrine is 1.5 mL/h.
 */

import { gravitySet, hang, hangSecondary, level, line, pump, takeDown } from "../access.js";
import { out, pushed, weighs } from "../charting.js";
import {
  bolus,
  dose,
  rate,
  secondary,
  secondaryEnded,
  shows,
  start,
  startDose,
  stop,
  therapy,
} from "../flows.js";
import { dextroseHalfSaline, norepinephrine, piperacillin, pressureFlush, ringer } from "../fluids.js";
import { at, device, nurse, type Story } from "../story.js";

export const septicShock: Story = {
  id: "demo-a",
  bed: "1",
  patient: "Demo Patient A",
  admitted: "1+00:30",
  kilograms: 80,
  told: [
    nurse(
      "1+00:45",
      at(
        "1+00:30",
        line("central-distal", "Right internal jugular, distal lumen"),
        line("central-medial", "Right internal jugular, medial lumen"),
        line("arterial", "Left radial artery", "arterial"),
        pump("pump-1", "central-distal", { device: "demo-pump-01" }),
        pump("pump-2", "central-medial", { device: "demo-pump-02" }),
        gravitySet("flush-1", "arterial", 60),
      ),
      at(
        "1+00:40",
        hang("pump-2", "ringer-1", ringer),
        start("pump-2", 125),
        hang("pump-1", "norepinephrine-1", norepinephrine),
        startDose("pump-1", 0.05, "ug/kg/min", 80), // 7.5 mL/h
        hang("flush-1", "pressure-flush-1", pressureFlush),
        start("flush-1", 3),
      ),
    ),
    nurse("1+01:02", at("1+01:00", bolus("pump-2", 500, "PT30M"))),
    nurse("1+01:22", at("1+01:20", dose("pump-1", 0.1, "ug/kg/min"))), // 15 mL/h
    // 20 min of 125 are 41.7, the bolus 500, 5 min of 125 are 10.4.
    nurse("1+01:36", at("1+01:35", shows("pump-2", 552))),
    // The device reports the same change as the nurse, a minute apart: it counts once.
    device("1+02:00", rate("pump-1", 22.5)),
    nurse(
      "1+02:02",
      at("1+02:01", dose("pump-1", 0.15, "ug/kg/min")), // 22.5 mL/h
      at("1+02:00", hangSecondary("pump-2", "piperacillin-1", piperacillin), secondary("pump-2", 200)),
    ),
    nurse("1+02:35", at("1+02:30", secondaryEnded("pump-2")), shows("pump-2", 100, "secondary")),
    nurse("1+03:15", dose("pump-1", 0.12, "ug/kg/min")), // 18 mL/h
    // 5 + 10 + 28.1 by 03:15, and 45 min of 18.
    device("1+04:00", shows("pump-1", 56.6)),
    nurse("1+04:05", at("1+04:00", out("urine", 40))),
    nurse("1+05:31", at("1+05:30", hang("pump-2", "ringer-2", ringer)), takeDown("ringer-1", 20)),
    nurse(
      "1+06:00",
      shows("pump-1", 92.6),
      dose("pump-1", 0.08, "ug/kg/min"), // 12 mL/h
      shows("pump-2", 1042),
      rate("pump-2", 100),
    ),
    nurse("1+06:10", pushed(2, "hydrocortisone")),
    nurse("1+08:30", out("urine", 110)),
    nurse("1+09:30", dose("pump-1", 0.05, "ug/kg/min")), // 7.5 mL/h
    nurse(
      "1+12:00",
      shows("pump-1", 153.4),
      shows("pump-2", 1642),
      shows("pump-2", 100, "secondary"),
      level("pressure-flush-1", 465),
      out("urine", 190),
    ),
    nurse(
      "2+02:01",
      at("2+02:00", hangSecondary("pump-2", "piperacillin-2", piperacillin), secondary("pump-2", 200)),
    ),
    nurse("2+02:31", at("2+02:30", secondaryEnded("pump-2"))),
    // The therapy changes, and both totals are written down before the channel forgets them.
    nurse(
      "2+03:03",
      at(
        "2+03:00",
        shows("pump-2", 1892),
        shows("pump-2", 200, "secondary"),
        therapy("pump-2"),
        hang("pump-2", "dextrose-1", dextroseHalfSaline),
        start("pump-2", 75),
      ),
      at("2+03:02", takeDown("ringer-2", 90)),
    ),
    nurse("2+04:00", dose("pump-1", 0.03, "ug/kg/min"), out("urine", 210)), // 4.5 mL/h
    nurse("2+08:02", at("2+08:00", shows("pump-1", 201.4), stop("pump-1"))),
    nurse("2+08:30", takeDown("norepinephrine-1", 48), out("urine", 280)),
    nurse("2+11:00", weighs(82.4)),
    nurse("2+12:00", shows("pump-2", 675), level("pressure-flush-1", 429), out("urine", 240)),
    nurse("3+02:30", out("urine", 180)),
    nurse(
      "3+04:11",
      at("3+04:10", hang("pump-2", "dextrose-2", dextroseHalfSaline)),
      takeDown("dextrose-1", 12),
    ),
    nurse("3+07:00", out("urine", 260)),
    nurse("3+11:50", shows("pump-2", 1562.5)),
  ],
};
