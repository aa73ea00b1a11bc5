/**
 * Demo Patient F, after a stroke: tube feeding whose channel counts formula and water flushes in one
 * combined total, and a saline infusion that reached its volume and was left at its keep-open rate.
 * Output by weighed pads. 60 kg.
 */

import { hang, hangSecondary, line, pump, takeDown } from "../access.js";
import { flushed, pad, pushed, residual } from "../charting.js";
import { rate, secondary, secondaryEnded, shows, start, stop } from "../flows.js";
import { feedingWater, smallSaline, tubeFeed } from "../fluids.js";
import { at, nurse, type Said, type Story, type StoryTime } from "../story.js";

/** 60 mL of water through the feeding tube, a quarter of an hour at 240 mL/h, while the formula waits. */
function waterFlush(from: StoryTime, to: StoryTime): Said[] {
  return [...at(from, secondary("feed-1", 240, "resume-primary", 60)), ...at(to, secondaryEnded("feed-1"))];
}

export const tubeFeeding: Story = {
  id: "demo-f",
  bed: "6",
  patient: "Demo Patient F",
  admitted: "1+00:10",
  kilograms: 60,
  told: [
    nurse(
      "1+00:45",
      at(
        "1+00:15",
        line("nasogastric", "Nasogastric tube 12 Fr", "enteral"),
        line("forearm", "Right forearm 22 G"),
        pump("feed-1", "nasogastric", { totals: "combined" }),
        pump("pump-1", "forearm"),
      ),
      at(
        "1+00:30",
        hang("feed-1", "formula-1", tubeFeed),
        hangSecondary("feed-1", "water-1", feedingWater),
        start("feed-1", 40),
      ),
      at(
        "1+00:40",
        hang("pump-1", "saline-1", smallSaline),
        start("pump-1", 80, { volumeToInfuse: 400, keepOpenRate: 10 }),
      ),
    ),
    nurse("1+02:15", waterFlush("1+02:00", "1+02:15")),
    nurse("1+04:32", at("1+04:30", residual(80, 80), rate("feed-1", 60))),
    // 400 by 05:40, then 10 min at 10.
    nurse("1+05:50", shows("pump-1", 401.7), pad("urine", 410, 60)),
    nurse("1+06:20", waterFlush("1+06:00", "1+06:15"), shows("feed-1", 365, "combined")),
    nurse("1+08:00", pushed(10, "levetiracetam")),
    nurse("1+10:16", waterFlush("1+10:00", "1+10:15")),
    nurse("1+12:00", shows("feed-1", 750, "combined"), shows("pump-1", 463.3)),
    nurse(
      "2+02:02",
      at("2+02:00", shows("pump-1", 483), stop("pump-1")),
      at("2+02:01", flushed(5, "forearm")),
    ),
    nurse("2+02:15", waterFlush("2+02:00", "2+02:15"), takeDown("saline-1", 17)),
    nurse("2+03:00", pad("urine", 450, 60)),
    nurse("2+07:16", at("2+07:15", hang("feed-1", "formula-2", tubeFeed)), takeDown("formula-1", 10)),
    nurse("2+10:15", waterFlush("2+10:00", "2+10:15")),
    nurse("2+12:00", shows("feed-1", 1560, "combined"), pad("urine", 520, 120)),
    nurse("3+04:00", residual(60, 60), pad("urine", 390, 60)),
    nurse("3+08:00", shows("feed-1", 2040, "combined")),
  ],
};
