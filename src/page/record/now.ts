/**
 * What time it is on the ward: the service's clock as it was when it answered, and what has passed since. The clock
 * of a workstation may be wrong, how long something takes it knows.
 */

import { useEffect, useState } from "react";
import type { Stay } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { moment } from "../words/wall.js";
import { type Clock, minuteOf } from "./time.js";

const TICK = 5_000;

/** The clock of a sheet that is open, to the minute; "now" of a shift that is over is its end. */
export function useNow(stay: Stay, { shift }: ShiftSheet, answeredAt: number): Clock {
  const [here, setHere] = useState(() => Date.now());
  useEffect(() => {
    const timer = setInterval(() => setHere(Date.now()), TICK);
    return () => clearInterval(timer);
  }, []);
  const passed = Math.max(0, here - answeredAt);
  const latest = minuteOf(shift.zone, moment(shift.until) + passed);
  const over = moment(shift.until) >= moment(shift.end);
  return { zone: shift.zone, now: over ? shift.end : latest, latest, earliest: stay.admittedAt };
}
