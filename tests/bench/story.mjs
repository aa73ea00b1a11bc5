/**
 * An invented stay in intensive care, told by the hour: six channels on three lines, titrations every
 * few minutes, secondaries, boluses, bags (about eleven a day, nearly half of them taken down with
 * something left), hourly readings, amounts, and at the end of every shift totals read and cleared.
 *
 * The readings and levels are right: a small model of the devices counts what they deliver, so that no
 * entry of the story raises a question. A stay may begin at any shift of the story and be told from
 * there with the very same entries, which is how a short stay is compared with a long one.
 */

export const MINUTE = 60_000;
export const HOUR = 60 * MINUTE;
export const DAY = 24 * HOUR;

/** The unit of every bench. The story begins with its day shift, after the clocks went forward. */
export const UNIT = {
  id: "icu",
  name: "Intensive care",
  zone: "America/Chicago",
  shifts: [
    { name: "day", label: "Day", starts: "07:00" },
    { name: "night", label: "Night", starts: "19:00" },
  ],
};
export const BEGINS = Date.parse("2026-03-09T07:00:00-05:00");

const FLUIDS = {
  crystalloid: { name: "Balanced crystalloid", category: "iv-fluid" },
  saline: { name: "Sodium chloride 0.9 %", category: "iv-fluid" },
  pressor: { name: "Norepinephrine", category: "iv-medication" },
  sedation: { name: "Propofol", category: "iv-medication" },
  insulin: { name: "Insulin", category: "iv-medication" },
  nutrition: { name: "Parenteral nutrition", category: "parenteral-nutrition" },
  antibiotic: { name: "Piperacillin-tazobactam", category: "iv-medication" },
};

/** Rates in mL/h, labels in mL. `down`: its bags are taken down and weighed, the others just replaced. */
export const CHANNELS = [
  { key: "maintenance", line: "jugular-1", type: "pump", rate: 80, label: 1_000, fluid: FLUIDS.crystalloid },
  { key: "carrier", line: "jugular-2", type: "pump", rate: 45, label: 500, fluid: FLUIDS.saline },
  {
    key: "pressor",
    line: "jugular-1",
    type: "syringe",
    rate: 5,
    label: 50,
    fluid: FLUIDS.pressor,
    down: true,
  },
  { key: "sedation", line: "jugular-2", type: "syringe", rate: 5, label: 100, fluid: FLUIDS.sedation },
  {
    key: "insulin",
    line: "jugular-2",
    type: "syringe",
    rate: 2,
    label: 50,
    fluid: FLUIDS.insulin,
    down: true,
  },
  {
    key: "nutrition",
    line: "subclavian",
    type: "pump",
    rate: 70,
    label: 1_500,
    fluid: FLUIDS.nutrition,
    down: true,
  },
];
const TITRATED = ["pressor", "sedation", "pressor", "insulin"];

/** What a device does: it delivers at its rate, counts, and draws on its bag. */
class Device {
  #upTo;
  #busyUntil = 0;
  #bags = 0;

  constructor(channel, at) {
    this.channel = channel;
    this.rate = channel.rate;
    this.total = 0;
    this.#upTo = at;
    this.newBag();
  }

  newBag() {
    this.bag = `${this.channel.key}-${++this.#bags}`;
    this.holds = this.channel.label;
  }

  comeTo(at) {
    const from = Math.max(this.#upTo, Math.min(at, this.#busyUntil));
    this.deliver((this.rate * Math.max(0, at - from)) / HOUR);
    this.#upTo = at;
    return this;
  }

  deliver(volume) {
    this.total += volume;
    this.holds -= volume;
  }

  /** Something else takes the channel until an instant. */
  busyUntil(at) {
    this.#busyUntil = at;
  }
}

/**
 * The story: an hour at a time, `perHour` entries each on the average (titrations fill the hour up).
 *
 * @param {{ hours: number, perHour: number }} asked
 * @returns {{ start: number, entries: object[], opening: object[] }[]} `opening` is how a stay begins
 *   that is told from this hour on; only shifts have one.
 */
export function story({ hours, perHour }) {
  const devices = new Map(CHANNELS.map((channel) => [channel.key, new Device(channel, BEGINS)]));
  let titrations = 0;
  return Array.from({ length: hours }, (_, hour) => {
    const start = BEGINS + hour * HOUR;
    const opening = hour % 12 === 0 ? opened(devices, start) : [];
    const events = [
      ...[...devices.values()].flatMap((device) => bagChange(device, start + 3 * MINUTE)),
      ...(hour % 24 === 8 ? secondary(devices.get("carrier"), start + 10 * MINUTE, hour) : []),
      ...(hour % 6 === 1 ? bolus(devices.get("sedation"), start + 20 * MINUTE) : []),
      ...(hour % 12 === 6 ? [rate(devices.get("maintenance"), start + 7 * MINUTE, 75 + (hour % 5))] : []),
      ...(hour % 8 === 2 ? [amount("intake-measured", "enteral-water", start + 30 * MINUTE, 60)] : []),
      amount("output-measured", "urine", start + 58 * MINUTE, 40 + (hour % 9) * 5),
    ];
    const closing = hour % 12 === 11;
    const charted = closing ? 2 * CHANNELS.length : CHANNELS.length;
    // What a clear adds at the end of a shift is spared in its other hours, so that days are alike.
    const left = Math.max(1, perHour - events.length - (closing ? charted - 1 : charted));
    for (let i = 0; i < left; i++) {
      const device = devices.get(TITRATED[titrations++ % TITRATED.length]);
      const minute = 42 + Math.floor((i * 12) / left);
      const step = ((titrations * 7) % 9) / 10;
      events.push(rate(device, start + minute * MINUTE, device.channel.rate * (0.6 + step)));
    }
    events.push(...readings(devices, closing ? start + HOUR : start + 55 * MINUTE, closing));
    return { start, opening, entries: events };
  });
}

const iso = (at) => new Date(at).toISOString();
const tenths = (volume) => Math.round(volume * 10) / 10;

function opened(devices, at) {
  const lines = [...new Set(CHANNELS.map(({ line }) => line))];
  return [
    ...lines.map((line) => ({ kind: "line-placed", at: iso(at), line, route: "intravenous" })),
    ...[...devices.values()].flatMap((device) => {
      const { key, line, type } = device.comeTo(at).channel;
      return [
        { kind: "channel-connected", at: iso(at), channel: key, line, type, totals: "separate" },
        { ...hung(device, at), remaining: tenths(device.holds) },
        { kind: "flow-started", at: iso(at), channel: key, rate: device.rate, volumeToInfuse: "none" },
      ];
    }),
  ];
}

function hung({ channel, bag }, at) {
  const { key, fluid, label } = channel;
  return { kind: "bag-hung", at: iso(at), channel: key, bag, volume: label, fluid };
}

/** A new bag before the old one runs dry within the hour. */
function bagChange(device, at) {
  const { key, rate, down } = device.comeTo(at).channel;
  if (device.holds > 2 * rate) return [];
  const old = { bag: device.bag, remaining: tenths(device.holds) };
  device.newBag();
  if (!down) return [hung(device, at)];
  return [
    { kind: "bag-taken-down", at: iso(at), ...old, method: "weighed" },
    hung(device, at),
    { kind: "flow-started", at: iso(at), channel: key, rate: device.rate, volumeToInfuse: "none" },
  ];
}

function rate(device, at, value) {
  device.comeTo(at).rate = tenths(value);
  return { kind: "rate-changed", at: iso(at), channel: device.channel.key, rate: device.rate };
}

/** 100 mL in half an hour from a bag of its own, seen to have ended. */
function secondary(device, at, hour) {
  const { key: channel } = device.comeTo(at).channel;
  const bag = `antibiotic-${hour}`;
  device.busyUntil(at + 30 * MINUTE);
  const role = "secondary";
  return [
    { kind: "bag-hung", at: iso(at), channel, bag, role, volume: 100, fluid: FLUIDS.antibiotic },
    { kind: "secondary-started", at: iso(at), channel, rate: 200, volumeToInfuse: 100 },
    { kind: "secondary-ended", at: iso(at + 31 * MINUTE), channel },
    { kind: "total-read", at: iso(at + 31 * MINUTE), channel, total: role, volume: 100 },
  ];
}

/** 2 mL in two minutes from the syringe. */
function bolus(device, at) {
  const { key: channel } = device.comeTo(at).channel;
  device.busyUntil(at + 2 * MINUTE);
  device.deliver(2);
  return [{ kind: "bolus-started", at: iso(at), channel, volume: 2, rate: 60 }];
}

function amount(kind, category, at, volume) {
  return { kind, at: iso(at), category, volume };
}

function readings(devices, at, closing) {
  return [...devices.values()].flatMap((device) => {
    const { key: channel } = device.comeTo(at).channel;
    const read = { kind: "total-read", at: iso(at), channel, total: "primary", volume: tenths(device.total) };
    if (!closing) return [read];
    device.total = 0;
    return [read, { kind: "totals-reset", at: iso(at), channel }];
  });
}
