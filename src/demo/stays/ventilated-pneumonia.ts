/**
 * Demo Patient G, pneumonia on a ventilator: sedation from a bottle, an opioid from a syringe, maintenance
 * with an antibiotic over two hours. A rate change nobody charted until a reading disagreed. 85 kg.
 *
 * At 85 kg and 10 mg in a millilitre, 20 ug/kg/min of propofol are 10.2 mL/h.
 */

import { hang, hangSecondary, line, pump, syringe, takeDown } from "../access.js";
import { out, weighs } from "../charting.js";
import {
  bolusDose,
  dose,
  pause,
  rate,
  resume,
  secondary,
  secondaryEnded,
  shows,
  showsIndeed,
  start,
  startDose,
} from "../flows.js";
import { fentanyl, propofol, ringer, vancomycin } from "../fluids.js";
import { at, nurse, type Story } from "../story.js";

export const ventilatedPneumonia: Story = {
  id: "demo-g",
  bed: "7",
  patient: "Demo Patient G",
  admitted: "1+00:05",
  kilograms: 85,
  told: [
    nurse(
      "1+00:35",
      at(
        "1+00:10",
        line("picc-red", "Right upper arm, red lumen"),
        line("picc-purple", "Right upper arm, purple lumen"),
        syringe("syringe-1", "picc-red"),
        pump("pump-1", "picc-red"),
        pump("pump-2", "picc-purple"),
      ),
      at("1+00:20", hang("syringe-1", "fentanyl-1", fentanyl), startDose("syringe-1", 100, "ug/h")), // 2 mL/h
      at("1+00:25", hang("pump-1", "propofol-1", propofol), startDose("pump-1", 20, "ug/kg/min", 85)),
      at("1+00:30", hang("pump-2", "ringer-1", ringer), start("pump-2", 50)),
    ),
    nurse(
      "1+02:02",
      at("1+02:00", hangSecondary("pump-2", "vancomycin-1", vancomycin), secondary("pump-2", 125)),
    ),
    nurse(
      "1+04:06",
      at("1+04:00", secondaryEnded("pump-2"), out("urine", 220)),
      at("1+04:05", shows("pump-2", 79.2), shows("pump-2", 250, "secondary")),
    ),
    nurse("1+06:01", at("1+06:00", bolusDose("syringe-1", 50, "ug", "PT1M"))), // 1 mL
    nurse("1+08:00", dose("syringe-1", 150, "ug/h")), // 3 mL/h
    nurse("1+10:01", at("1+10:00", hang("pump-1", "propofol-2", propofol)), takeDown("propofol-1", 2)),
    nurse(
      "1+12:00",
      shows("syringe-1", 28.3),
      shows("pump-1", 118.2),
      // 475 by what is charted so far; the pump was asked again and shows 535.
      showsIndeed("pump-2", 535),
      out("urine", 430),
    ),
    // Why: the rate had been raised six hours before the end of the shift.
    nurse("2+01:00", at("1+06:00", rate("pump-2", 60))),
    nurse("2+03:00", dose("pump-1", 15, "ug/kg/min")), // 7.65, set as 7.7 mL/h
    nurse(
      "2+07:01",
      at("2+07:00", hang("syringe-1", "fentanyl-2", fentanyl), hang("pump-2", "ringer-2", ringer)),
      takeDown("fentanyl-1", 1),
      takeDown("ringer-1", 45),
    ),
    nurse("2+09:00", hang("pump-1", "propofol-3", propofol)),
    nurse("2+09:01", takeDown("propofol-2", 3)),
    nurse("2+11:00", weighs(86.1)),
    nurse(
      "2+12:00",
      shows("syringe-1", 64.3),
      shows("pump-1", 218),
      shows("pump-2", 1255),
      out("urine", 560),
    ),
    nurse("3+02:00", pause("pump-1", "daily wake-up trial")),
    nurse("3+02:45", resume("pump-1")),
    nurse("3+04:00", dose("syringe-1", 100, "ug/h")), // 2 mL/h
    nurse("3+06:00", shows("pump-2", 1615), rate("pump-2", 50), out("urine", 330)),
    nurse("3+10:00", hang("pump-1", "propofol-4", propofol)),
  ],
};
