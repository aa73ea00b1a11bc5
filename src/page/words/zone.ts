/** From a time on the ward's clock to the instants it can be: none or two at a change of the clock, else one. */

/** The text of a wall-clock time: "2026-03-04T05:10", as an input of a date and time has it. */
const WALL = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})$/;

/** The instants at which the clocks of a zone show a wall-clock time, earliest first; [] for no such time. */
export function instantsAt(wall: string, zone: string): string[] {
  const [, date, time] = WALL.exec(wall) ?? [];
  if (date === undefined || time === undefined) return [];
  const asIfUtc = Date.parse(`${date}T${time}:00Z`);
  if (Number.isNaN(asIfUtc)) return [];
  const day = 86_400_000;
  const offsets = new Set([asIfUtc - day, asIfUtc + day].map((about) => offsetAt(about, zone)));
  return [...offsets]
    .map((offset) => `${date}T${time}:00${offset}`)
    .filter((instant) => offsetAt(Date.parse(instant), zone) === instant.slice(-6))
    .sort((a, b) => Date.parse(a) - Date.parse(b));
}

/** What the clocks of a zone show at a moment (ms since 1970): "2026-03-04T05:10". */
export function wallAt(moment: number, zone: string): string {
  const offset = offsetAt(moment, zone);
  const sign = offset.startsWith("-") ? -1 : 1;
  const minutes = sign * (Number(offset.slice(1, 3)) * 60 + Number(offset.slice(4)));
  return new Date(moment + minutes * 60_000).toISOString().slice(0, 16);
}

/** "-06:00": how far the clocks of a zone are from UTC at a moment. */
function offsetAt(moment: number, zone: string): string {
  const format = new Intl.DateTimeFormat("en", { timeZone: zone, timeZoneName: "longOffset" });
  const name = format.formatToParts(moment).find(({ type }) => type === "timeZoneName")?.value;
  return name?.slice(3) || "+00:00";
}
