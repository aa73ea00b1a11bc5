/**
 * Demo Patient I, cellulitis: a line that failed and a channel put on another, a bed changed in the second
 * shift, and totals that somebody cleared on the way without a word. 72 kg.
 */

import { hang, hangSecondary, line, lineOut, pump, takeDown } from "../access.js";
import { drank, out, unmeasured } from "../charting.js";
import {
  foundCleared,
  pause,
  resume,
  secondary,
  secondaryEnded,
  shows,
  showsIndeed,
  start,
  stop,
} from "../flows.js";
import { azithromycin, ceftriaxone, saline } from "../fluids.js";
import { at, nurse, type Story } from "../story.js";

export const cellulitis: Story = {
  id: "demo-i",
  bed: "9",
  patient: "Demo Patient I",
  admitted: "1+04:00",
  kilograms: 72,
  told: [
    nurse(
      "1+04:25",
      at("1+04:10", line("forearm", "Left forearm 22 G"), pump("pump-1", "forearm")),
      at("1+04:20", hang("pump-1", "saline-1", saline), start("pump-1", 75)),
    ),
    nurse(
      "1+05:01",
      at("1+05:00", hangSecondary("pump-1", "ceftriaxone-1", ceftriaxone), secondary("pump-1", 100)),
    ),
    nurse("1+05:35", at("1+05:30", secondaryEnded("pump-1")), shows("pump-1", 50, "secondary")),
    nurse("1+06:30", drank(240, "tea"), unmeasured("urine")),
    // The forearm is swollen: paused, a new line placed, the channel put on it, the old line out.
    nurse(
      "1+08:58",
      at("1+08:30", shows("pump-1", 275), pause("pump-1", "swelling at the left forearm")),
      at("1+08:50", line("hand", "Right hand 20 G"), pump("pump-1", "hand")),
      at("1+08:52", lineOut("forearm")),
      at("1+08:55", resume("pump-1")),
    ),
    nurse("1+09:30", out("urine", 320)),
    nurse("1+12:00", shows("pump-1", 506)),
    // Lower than before: asked, and looked at again.
    nurse(
      "2+06:02",
      at("2+06:00", showsIndeed("pump-1", 212.5), hang("pump-1", "saline-2", saline)),
      at("2+06:01", takeDown("saline-1", 45)),
    ),
    nurse("2+07:00", at("2+03:10", foundCleared("pump-1", ["primary", "secondary"], "2+03:00", "2+03:20"))),
    nurse(
      "2+08:02",
      at("2+08:00", hangSecondary("pump-1", "azithromycin-1", azithromycin), secondary("pump-1", 250)),
    ),
    nurse("2+09:05", at("2+09:00", secondaryEnded("pump-1")), shows("pump-1", 250, "secondary")),
    nurse("2+10:00", out("urine", 300)),
    nurse("2+12:00", shows("pump-1", 587.5)),
    nurse("3+02:00", drank(300, "coffee")),
    nurse("3+04:01", at("3+04:00", shows("pump-1", 887.5), stop("pump-1"))),
    nurse("3+04:05", takeDown("saline-2", 325)),
    nurse("3+07:30", out("urine", 630)),
  ],
  turns: [{ at: "2+03:00", change: { bed: "12" } }],
};
