/**
 * The record of a shift as somebody charts it: every time cut to the minute (or to five), readings as
 * displayed. Or a device reports what it shows, and when it is cleared, to the second, and people chart the
 * rest. A fault leaves events out, or has them charted otherwise.
 */

const FLUIDS = {
  primary: { name: "Balanced crystalloid", category: "iv-fluid" },
  secondary: { name: "Piperacillin-tazobactam", category: "iv-medication" },
};
const LINE = "jugular";
const microlitres = (volume) => Math.round(volume * 1_000);

/**
 * Entries with their ids, in the order of recording. An entry's id is the same whatever the fault.
 *
 * @param {import("./detection-story.mjs").Channel[]} channels
 * @param {{ grain: number, readBy?: "person" | "device", without?: Set<object>, instead?: Map<object, object> }} how
 */
export function record(channels, { grain, readBy = "person", without = new Set(), instead = new Map() }) {
  const charted = (at) => Math.floor(at / grain) * grain;
  const reported = ({ kind }) => readBy === "device" && (kind === "look" || kind === "clear");
  const entries = channels.flatMap((channel) => [
    ...opening(channel, charted(channel.begins)),
    ...channel.events.flatMap((event, i) => {
      if (without.has(event)) return [];
      const told = instead.get(event) ?? event;
      const source = reported(event) ? "device" : "person";
      const at = source === "device" ? told.at : charted((told.before ?? told).at + (told.off ?? 0));
      const id = `${channel.key}.${i}`;
      return TOLD[event.kind](told, channel, id).map((entry) => ({
        id: idOf(id, entry),
        source,
        entry: { at, ...entry },
      }));
    }),
  ]);
  const line = { kind: "line-placed", at: Math.min(...entries.map(({ entry }) => entry.at)), line: LINE };
  return [{ id: "line", entry: { ...line, route: "intravenous" } }, ...entries].map((one, i) => ({
    source: "person",
    ...one,
    sequence: i + 1,
  }));
}

const idOf = (event, { kind, total }) => [event, kind, ...(total === undefined ? [] : [total])].join(".");

/** The id of the entry that tells what was read of a total at a look. */
export function idOfReading({ key, events }, look, total) {
  return idOf(`${key}.${events.indexOf(look)}`, { kind: "total-read", total });
}

function opening({ key, type, totals, rate }, at) {
  const connected = { kind: "channel-connected", channel: key, line: LINE, type, totals };
  return [
    { id: `${key}.connected`, entry: { at, ...connected, clearsOn: ["therapy-change"] } },
    { id: `${key}.started`, entry: { at, ...started(key, rate) } },
  ];
}

const started = (channel, rate) => ({
  kind: "flow-started",
  channel,
  rate: microlitres(rate),
  volumeToInfuse: "none",
});

/** The entries that tell of an event; `id` names the bags that hang with it. */
const TOLD = {
  rate: ({ rate }, { key: channel }) => [
    { kind: "rate-changed", channel, role: "primary", rate: microlitres(rate) },
  ],
  bag: ({ label }, { key: channel }, bag) => [hung(channel, bag, "primary", label)],
  secondary({ volume, rate }, { key: channel }, bag) {
    const programme = {
      rate: microlitres(rate),
      volumeToInfuse: microlitres(volume),
      whenDone: "resume-primary",
    };
    return [hung(channel, bag, "secondary", volume), { kind: "secondary-started", channel, ...programme }];
  },
  bolus: ({ volume, rate }, { key: channel }) => [
    {
      kind: "bolus-started",
      channel,
      rate: microlitres(rate),
      volume: microlitres(volume),
      whenDone: "return",
    },
  ],
  pause: (_, { key: channel }) => [{ kind: "flow-paused", channel }],
  resume: (_, { key: channel }) => [{ kind: "flow-resumed", channel }],
  clear({ by, rate, uncharted }, { key: channel, base }) {
    if (by === "totals-reset") return [{ kind: by, channel, totals: Object.keys(base) }];
    return [...(uncharted ? [] : [{ kind: by, channel }]), started(channel, rate)];
  },
  /** The primary always, the secondary if there is any; what opens the shift is where it is counted from. */
  look: ({ shows, both, opens }, { key: channel }) =>
    Object.entries(shows)
      .filter(([total, volume]) => total !== "secondary" || (both && volume > 0))
      .map(([total, volume]) => ({
        kind: "total-read",
        channel,
        total,
        volume,
        confirmed: true,
        ...(opens && { settled: "reading" }),
      })),
};

function hung(channel, bag, role, volume) {
  return { kind: "bag-hung", channel, bag, role, fluid: FLUIDS[role], volume: microlitres(volume) };
}
