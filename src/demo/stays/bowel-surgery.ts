/**
 * Demo Patient D, after bowel surgery: maintenance with a bolus from the bag, an antibiotic after which the
 * channel waits for somebody, a pause for a procedure, a patient-controlled pump that only counts, and a
 * drain, gastric and urine losses. 90 kg.
 *
 * The charge nurse copied the first shift off a paper sheet that has four slips: the emesis is left out, the
 * antibiotic stands in the maintenance as well, 150 mL of urine are written as 510, and the drain's last
 * level was charted without taking off the one before.
 */

import { hang, hangSecondary, line, meteredSource, pump, takeDown } from "../access.js";
import { drain, drainEmptied, drainShows, drank, out } from "../charting.js";
import { row, sum } from "../copied.js";
import { bolus, pause, rate, resume, secondary, shows, start, stop } from "../flows.js";
import { cefazolin, hydromorphone, ringer } from "../fluids.js";
import { at, nurse, type Story } from "../story.js";

export const bowelSurgery: Story = {
  id: "demo-d",
  bed: "4",
  patient: "Demo Patient D",
  admitted: "1+03:00",
  kilograms: 90,
  told: [
    nurse(
      "1+03:20",
      at(
        "1+03:10",
        line("hand", "Right hand 18 G"),
        line("forearm", "Left forearm 20 G"),
        pump("pump-1", "hand"),
        meteredSource("pca-1", "forearm"),
        hang("pca-1", "hydromorphone-1", hydromorphone),
        drain("drain-1"),
      ),
      at("1+03:15", hang("pump-1", "ringer-1", ringer), start("pump-1", 100)),
    ),
    nurse("1+04:30", out("emesis", 100)),
    nurse("1+05:02", at("1+05:00", bolus("pump-1", 250, "PT15M"))),
    // 175 before the bolus, 250 with it, 5 min of 100 after it.
    nurse("1+05:20", shows("pump-1", 433)),
    nurse(
      "1+07:03",
      at("1+07:00", hangSecondary("pump-1", "cefazolin-1", cefazolin), secondary("pump-1", 100, "wait")),
      at("1+07:00", shows("pca-1", 2.4), drainShows("drain-1", 60), out("urine", 180)),
    ),
    nurse("1+07:45", resume("pump-1")),
    nurse("1+09:01", at("1+09:00", pause("pump-1", "line clamped while the drain was dressed"))),
    nurse("1+09:31", at("1+09:30", resume("pump-1"))),
    nurse("1+10:00", out("urine", 150)),
    nurse(
      "1+12:00",
      shows("pump-1", 975),
      shows("pump-1", 50, "secondary"),
      shows("pca-1", 6),
      drainEmptied("drain-1", 110),
      out("gastric", 150),
      out("urine", 120),
    ),
    nurse("2+00:06", at("2+00:05", hang("pump-1", "ringer-2", ringer)), takeDown("ringer-1", 15)),
    nurse("2+04:05", at("2+04:00", out("urine", 260))),
    nurse("2+06:00", shows("pca-1", 10.4), drainShows("drain-1", 45)),
    nurse(
      "2+09:46",
      at("2+09:45", hang("pump-1", "ringer-3", ringer), rate("pump-1", 75)),
      takeDown("ringer-2", 35),
    ),
    nurse(
      "2+12:00",
      shows("pump-1", 2119),
      shows("pca-1", 14),
      drainEmptied("drain-1", 80),
      out("urine", 450),
    ),
    nurse("3+04:01", at("3+04:00", shows("pump-1", 2419), stop("pump-1"), takeDown("ringer-3", 530))),
    nurse("3+06:00", drank(200, "broth"), shows("pca-1", 17.2), out("urine", 330)),
  ],
  copied: [
    {
      id: "paper-first-shift",
      recordedAt: "2+00:30",
      source: "Paper sheet (invented, with planted slips)",
      from: "1+03:00",
      rows: [
        row("iv-fluid", [75, 100, 325, 100, 75, 100, 50, 100, 100], 1_025),
        row("iv-medication", [0, 0, 0, 2, 50, 0, 0, 0, 4], 56),
        row("urine", [0, 0, 0, 180, 0, 0, 510, 0, 120], 810),
        row("gastric", [0, 0, 0, 0, 0, 0, 0, 0, 150], 150),
        row("emesis", [null, 0, 0, 0, 0, 0, 0, 0, 0], 0),
        row("drain", [0, 0, 0, 60, 0, 0, 0, 0, 110], 170),
        sum("intake", 1_081),
        sum("output", 1_130),
        sum("net", -49),
      ],
    },
  ],
};
