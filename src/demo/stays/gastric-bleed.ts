/**
 * Demo Patient E, upper gastrointestinal bleed: saline wide open, two units of red cells on a gravity set
 * counted in drops, a stomach washed out, and a proton pump inhibitor whose total somebody cleared. Nobody was
 * weighed before the third shift.
 *
 * With 10 drops to the millilitre, 20 drops a minute are 120 mL/h and 25 are 150 mL/h.
 */

import { gravitySet, hang, level, line, pump, takeDown } from "../access.js";
import { drank, emptied, flushed, out, rinsed, unmeasured, weighs } from "../charting.js";
import { cleared, shows, start, startDrops, stop } from "../flows.js";
import { pantoprazole, redCells, smallSaline } from "../fluids.js";
import { at, device, nurse, type Story } from "../story.js";

export const gastricBleed: Story = {
  id: "demo-e",
  bed: "5",
  patient: "Demo Patient E",
  admitted: "1+02:00",
  told: [
    nurse(
      "1+02:15",
      at(
        "1+02:00",
        line("left-elbow", "Left antecubital 18 G"),
        line("right-elbow", "Right antecubital 18 G"),
        gravitySet("gravity-1", "left-elbow", 10),
        pump("pump-1", "right-elbow", { device: "demo-pump-07" }),
      ),
      at("1+02:05", hang("gravity-1", "saline-1", smallSaline), start("gravity-1", "unknown")),
      at("1+02:10", out("emesis", 300)),
    ),
    nurse(
      "1+02:47",
      at("1+02:25", level("saline-1", 250)),
      at("1+02:45", level("saline-1", 0), stop("gravity-1"), takeDown("saline-1", 0)),
      at("1+02:30", unmeasured("stool")),
    ),
    nurse("1+02:52", at("1+02:50", hang("gravity-1", "red-cells-1", redCells), startDrops("gravity-1", 20))),
    nurse("1+03:05", at("1+03:00", hang("pump-1", "pantoprazole-1", pantoprazole), start("pump-1", 10))),
    nurse(
      "1+03:21",
      at("1+03:10", rinsed("stomach", 300)),
      at("1+03:20", emptied("gastric", "stomach", 380)),
    ),
    // 300 mL at 120 mL/h, from 02:50.
    nurse("1+05:22", at("1+05:20", takeDown("red-cells-1", 0)), at("1+05:21", flushed(30, "left-elbow"))),
    nurse(
      "1+05:42",
      at("1+05:40", hang("gravity-1", "red-cells-2", redCells), startDrops("gravity-1", 25)),
      out("urine", 90),
    ),
    nurse("1+06:40", level("red-cells-2", 150), out("stool", 200)),
    nurse("1+07:41", at("1+07:40", takeDown("red-cells-2", 0))),
    nurse("1+12:00", shows("pump-1", 90), out("urine", 140)),
    nurse(
      "2+00:51",
      at("2+00:50", hang("pump-1", "pantoprazole-2", pantoprazole)),
      takeDown("pantoprazole-1", 2),
    ),
    nurse("2+04:00", out("urine", 220)),
    // Somebody cleared the total at the bedside; only the device says so.
    device("2+06:00", cleared("pump-1", ["primary"])),
    // A reading from an hour before, charted late, saves most of what the clear would have lost.
    nurse("2+09:10", at("2+05:00", shows("pump-1", 140))),
    nurse(
      "2+10:31",
      at("2+10:30", hang("pump-1", "pantoprazole-3", pantoprazole)),
      takeDown("pantoprazole-2", 3),
    ),
    nurse("2+12:00", shows("pump-1", 60), out("urine", 160)),
    nurse("3+01:00", drank(100, "water")),
    nurse("3+06:00", shows("pump-1", 120), stop("pump-1"), out("urine", 250)),
    nurse("3+06:05", takeDown("pantoprazole-3", 25)),
    nurse("3+08:30", weighs(65.9)),
  ],
};
