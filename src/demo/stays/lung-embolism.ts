/**
 * Demo Patient C, pulmonary embolism: comes with a begun bag on a gravity set, is away for a scan with the
 * set running and nobody watching it, then has heparin by units with a bolus and an hour's hold. 75 kg.
 *
 * At 75 kg and 100 units in a millilitre, 18 [iU]/kg/h are 13.5 mL/h. With 20 drops to the millilitre,
 * 25 drops a minute are 75 mL/h.
 */

import { gravitySet, hang, level, line, pump, takeDown } from "../access.js";
import { away, back, drank, flushed, out, unmeasured } from "../charting.js";
import { bolusDose, dose, drops, pause, resume, shows, startDose, startDrops, stop } from "../flows.js";
import { heparin, saline } from "../fluids.js";
import { at, nurse, type Story } from "../story.js";

export const lungEmbolism: Story = {
  id: "demo-c",
  bed: "3",
  patient: "Demo Patient C",
  admitted: "1+00:05",
  kilograms: 75,
  told: [
    nurse(
      "1+00:20",
      at(
        "1+00:10",
        line("hand", "Left hand 20 G"),
        line("forearm", "Right forearm 20 G"),
        gravitySet("gravity-1", "hand", 20),
        hang("gravity-1", "saline-1", saline, { remaining: 600 }),
      ),
      at("1+00:12", startDrops("gravity-1", 25)),
    ),
    nurse("1+00:30", away("scan")),
    nurse("1+01:16", at("1+01:10", back()), at("1+01:15", level("saline-1", 530))),
    nurse(
      "1+01:45",
      at(
        "1+01:30",
        pump("pump-1", "forearm"),
        hang("pump-1", "heparin-1", heparin),
        startDose("pump-1", 18, "[iU]/kg/h", 75), // 13.5 mL/h
      ),
      at("1+01:31", bolusDose("pump-1", 6_000, "[iU]", "PT10M")), // 60 mL
    ),
    nurse("1+03:00", drank(200, "water"), out("urine", 250)),
    nurse("1+06:00", out("urine", 300)),
    // 0.2 by the bolus, 60 with it, and 5 h 49 min of 13.5.
    nurse(
      "1+07:32",
      at("1+07:30", shows("pump-1", 138.8), pause("pump-1", "held for an hour on a laboratory result")),
    ),
    nurse(
      "1+08:02",
      at("1+08:00", level("saline-1", 30), hang("gravity-1", "saline-2", saline)),
      at("1+08:01", takeDown("saline-1", 30)),
    ),
    nurse("1+08:30", resume("pump-1"), dose("pump-1", 16, "[iU]/kg/h")), // 12 mL/h
    nurse("1+09:30", unmeasured("stool")),
    nurse("1+12:00", shows("pump-1", 180.8), level("saline-2", 690), out("urine", 420)),
    nurse("2+00:05", at("2+00:00", drops("gravity-1", 17))), // 51 mL/h
    nurse(
      "2+05:02",
      at("2+05:00", level("saline-2", 440), stop("gravity-1")),
      at("2+05:01", takeDown("saline-2", 440), flushed(10, "hand")),
      at("2+05:00", shows("pump-1", 240.8), hang("pump-1", "heparin-2", heparin)),
    ),
    nurse("2+06:00", out("urine", 350)),
    // Nobody reads the heparin at the end of the second shift.
    nurse("3+02:00", drank(240, "coffee")),
    nurse("3+06:00", shows("pump-1", 396.8), drank(300, "soup")),
    nurse("3+08:00", dose("pump-1", 15, "[iU]/kg/h"), out("urine", 320)), // 11.25, set as 11.3 mL/h
  ],
};
