/** Every kind of clinical fact a caller may post: all of domain entries but the corrections of them. */

import { z } from "zod";
import { IntakeMeasured, IrrigantInstilled, OutputMeasured } from "./amounts.js";
import { BagAdjusted, BagHung, BagLevelRead, BagTakenDown } from "./bags.js";
import { ChamberEmptied, ChamberPlaced, ChamberRead } from "./chambers.js";
import {
  FlowPaused,
  FlowResumed,
  FlowStarted,
  FlowStopped,
  RateChanged,
  VolumeToInfuseSet,
} from "./flows.js";
import { ChannelConnected, ChannelDisconnected, LinePlaced, LineRemoved } from "./lines-and-channels.js";
import {
  BolusStarted,
  BolusStopped,
  DeliveryLost,
  SecondaryEnded,
  SecondaryStarted,
} from "./secondary-and-bolus.js";
import { AwayEnded, AwayStarted, WeightMeasured } from "./stay.js";
import { SegmentRead, TherapyChanged, TotalRead, TotalsReset, VarianceSettled } from "./totals.js";

export const FACTS = [
  LinePlaced,
  LineRemoved,
  ChannelConnected,
  ChannelDisconnected,
  BagHung,
  BagTakenDown,
  BagLevelRead,
  BagAdjusted,
  FlowStarted,
  RateChanged,
  VolumeToInfuseSet,
  FlowPaused,
  FlowResumed,
  FlowStopped,
  SecondaryStarted,
  SecondaryEnded,
  BolusStarted,
  BolusStopped,
  DeliveryLost,
  TotalRead,
  TotalsReset,
  TherapyChanged,
  VarianceSettled,
  IntakeMeasured,
  OutputMeasured,
  IrrigantInstilled,
  ChamberPlaced,
  ChamberRead,
  ChamberEmptied,
  AwayStarted,
  AwayEnded,
  WeightMeasured,
  SegmentRead,
] as const;

export const PostedFact = z.discriminatedUnion("kind", FACTS).meta({
  id: "PostedFact",
  description: "A clinical fact of any kind, told by its `kind`.",
});
export type PostedFact = z.infer<typeof PostedFact>;
