/** What stands on every page of a sheet: the patient, the shift, the caution, and which record it was printed from. */

import { shiftKey } from "../api/sheet.js";
import { clock, moment } from "../words/wall.js";
import type { Foot, Identity } from "./sheet.js";
import { offset, type Source, stamp } from "./source.js";

export function identityOf(source: Source): Identity {
  const { stay, sheet, unit, speech, words } = source;
  const { patient, bed } = stay;
  const { shift } = sheet;
  const [before, after] = [offset(shift.start), offset(shift.end)];
  const [from, to] = [clock(shift.start), clock(shift.end)];
  const hours =
    before === after ? words.hours(from, to, before) : words.hoursOverChange(from, before, to, after);
  const place = [
    bed === undefined ? speech.words.patients.noBed : speech.words.patients.bed(bed),
    unit?.name,
  ];
  const where = place.filter((part) => part !== undefined).join(", ");
  const running = moment(shift.until) < moment(shift.end);
  return {
    name: patient.name ?? null,
    identifier: patient.identifier,
    identifierName: words.identifier,
    place: isLatest(source) ? where : words.atPresent(where),
    shift: [
      words.dated(speech.day(shift.date), shift.date),
      `${shift.label} ${hours}`,
      ...(running ? [words.computed(clock(shift.until))] : []),
    ].join(", "),
  };
}

/** Where a patient lies is known of the present alone, and an earlier shift may have been spent elsewhere. */
function isLatest({ stay: { shifts }, sheet }: Source): boolean {
  const [latest] = shifts;
  return latest === undefined || shiftKey(latest) === sheet.shift.shift;
}

export function footOf({ sheet: { shift }, unit, by, speech, words }: Source): Foot {
  const { sequence, recordedAt, digest, calculation } = shift.asOf;
  const record = words.record(String(sequence), stamp(recordedAt), calculation, digest);
  const invented = unit?.name.toLowerCase().includes("invented") === true;
  return {
    caution: invented ? `${speech.words.invented} ${speech.words.caution}` : speech.words.caution,
    record: by === null ? record : `${record} ${words.printedBy(by)}`,
  };
}
