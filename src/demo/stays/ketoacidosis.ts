/**
 * Demo Patient B, diabetic ketoacidosis: insulin by units an hour, fluids first fast, then with dextrose
 * and potassium. A change of therapy nobody took a reading for; a bag that ran dry in the night. 70 kg.
 */

import { hang, line, primed, pump, takeDown } from "../access.js";
import { drank, out, pushed, unmeasured } from "../charting.js";
import { dose, rate, shows, start, startDose, stop, therapy } from "../flows.js";
import { dextrosePotassium, insulin, saline } from "../fluids.js";
import { at, nurse, type Story } from "../story.js";

export const ketoacidosis: Story = {
  id: "demo-b",
  bed: "2",
  patient: "Demo Patient B",
  admitted: "1+01:00",
  kilograms: 70,
  told: [
    nurse(
      "1+01:20",
      at(
        "1+01:00",
        line("forearm", "Left forearm 18 G"),
        line("elbow", "Right antecubital 20 G"),
        pump("pump-1", "forearm"),
        pump("pump-2", "elbow"),
      ),
      at("1+01:15", hang("pump-1", "saline-1", saline), start("pump-1", 500)),
      out("emesis", 200),
    ),
    nurse(
      "1+01:33",
      at(
        "1+01:30",
        hang("pump-2", "insulin-1", insulin),
        primed("insulin-1", 20),
        startDose("pump-2", 7, "[iU]/h"),
      ),
    ),
    nurse("1+02:10", out("urine", 600)),
    nurse(
      "1+03:12",
      at("1+03:10", shows("pump-1", 958), hang("pump-1", "saline-2", saline), rate("pump-1", 250)),
      at("1+03:11", takeDown("saline-1", 40)),
    ),
    nurse("1+03:30", dose("pump-2", 5, "[iU]/h")),
    nurse("1+05:30", dose("pump-2", 8, "[iU]/h"), unmeasured("urine")),
    // The new therapy was programmed first: the total of the saline since 03:10 was gone.
    nurse(
      "1+07:04",
      at(
        "1+07:00",
        therapy("pump-1", "already-cleared"),
        hang("pump-1", "dextrose-1", dextrosePotassium),
        start("pump-1", 150, { volumeToInfuse: "none" }),
      ),
      at("1+07:01", takeDown("saline-2", 40)),
    ),
    nurse("1+07:30", shows("pump-2", 40), dose("pump-2", 4, "[iU]/h")),
    nurse("1+08:15", out("urine", 400)),
    nurse("1+10:00", dose("pump-2", 2, "[iU]/h"), drank(200, "broth")),
    nurse("1+12:00", shows("pump-1", 750), shows("pump-2", 54), out("urine", 450)),
    // The bag gave all of its overfill, 1,100 mL, by 02:20 and stood empty for half an hour.
    nurse(
      "2+02:52",
      at(
        "2+02:50",
        shows("pump-1", 1100),
        takeDown("dextrose-1", 0),
        hang("pump-1", "dextrose-2", dextrosePotassium),
        start("pump-1", 125),
      ),
    ),
    nurse("2+04:10", pushed(25, "dextrose 50 %")),
    nurse("2+06:00", dose("pump-2", 1, "[iU]/h")),
    nurse("2+08:00", rate("pump-1", 75)),
    nurse("2+10:02", at("2+10:00", shows("pump-2", 70), stop("pump-2"), takeDown("insulin-1", 10))),
    nurse("2+12:00", shows("pump-1", 2046), stop("pump-1"), out("urine", 620)),
    nurse("3+00:10", takeDown("dextrose-2", 50)),
    nurse("3+01:30", drank(240, "tea"), out("urine", 250)),
    nurse("3+08:00", out("urine", 420), drank(300, "water")),
  ],
};
