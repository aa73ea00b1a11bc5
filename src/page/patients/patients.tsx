/** The list of a unit's patients. Nobody is chosen beforehand: the first of a list is not the one meant. */

import { useQuery, useQueryClient } from "@tanstack/react-query";
import { addressOf, type Choice, NOTHING } from "../address.js";
import { aboutPatients, aboutUnits } from "../api/asking.js";
import type { Encounter, Unit } from "../api/shapes.js";
import { Link } from "../round/link.js";
import { aboutWho, signOut } from "../sign-in/who.js";
import { Top } from "../ui/frame.js";
import { go } from "../ui/going.js";
import { ViewHeading } from "../ui/heading.js";
import { useStream } from "../ui/hearing.js";
import { Empty, Failed, Loading } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";

export function Patients({ choice }: { readonly choice: Choice }) {
  const { words } = useSpeech();
  const queries = useQueryClient();
  const units = useQuery(aboutUnits);
  const unit = units.data?.find(({ id }) => id === choice.unit) ?? units.data?.[0];
  return (
    <>
      <Top unit={unit?.name ?? null} told={null}>
        <button type="button" className="plain" onClick={() => void signOut(queries)}>
          {words.signIn.out}
        </button>
      </Top>
      <main>
        <ViewHeading>{words.patients.heading}</ViewHeading>
        {units.error && <Failed failure={units.error} staleFrom={null} again={() => void units.refetch()} />}
        {units.isPending && <Loading />}
        {units.data?.length === 0 && <Empty>{words.patients.noUnits}</Empty>}
        {unit !== undefined && <OfUnit unit={unit} units={units.data ?? []} discharged={choice.discharged} />}
      </main>
    </>
  );
}

interface OfUnitProps {
  readonly unit: Unit;
  readonly units: readonly Unit[];
  readonly discharged: boolean;
}

function OfUnit({ unit, units, discharged }: OfUnitProps) {
  const { words } = useSpeech();
  const patients = useQuery(aboutPatients(unit.id, !discharged));
  // The audit is for who answers for the unit.
  const role = useQuery({ ...aboutWho, enabled: false }).data?.me?.role;
  useStream(unit.id);
  return (
    <>
      <div className="controls">
        <label htmlFor="unit">{words.patients.unit}</label>
        <select id="unit" value={unit.id} onChange={(event) => go({ unit: event.target.value })}>
          {units.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
        <label className="check">
          <input
            type="checkbox"
            checked={discharged}
            onChange={(event) => go({ discharged: event.target.checked })}
          />
          {words.patients.discharged}
        </label>
        {role === "charge-nurse" && (
          <Link to={{ ...NOTHING, unit: unit.id, view: "round" }}>{words.round.heading}</Link>
        )}
      </div>
      {patients.error && (
        <Failed failure={patients.error} staleFrom={null} again={() => void patients.refetch()} />
      )}
      {patients.isPending && <Loading />}
      {patients.data?.length === 0 && (
        <Empty>{discharged ? words.patients.none : words.patients.noneOpen}</Empty>
      )}
      <ul className="patients">
        {byBed(patients.data ?? []).map((one) => (
          <Patient key={one.id} encounter={one} unit={unit.id} />
        ))}
      </ul>
    </>
  );
}

function byBed(encounters: readonly Encounter[]): Encounter[] {
  const bed = (encounter: Encounter) => encounter.bed ?? "\uffff";
  return [...encounters].sort((a, b) => bed(a).localeCompare(bed(b), "en", { numeric: true }));
}

function Patient({ encounter, unit }: { readonly encounter: Encounter; readonly unit: string }) {
  const { words, day } = useSpeech();
  const { bed, patient, admittedAt, dischargedAt, leftAt } = encounter;
  const there = dischargedAt
    ? words.patients.until(day(dischargedAt))
    : words.patients.since(day(admittedAt));
  // Of a patient who left lately the unit still finishes its own time.
  const stands = leftAt ? words.patients.left(encounter.unit, clock(leftAt)) : there;
  const choice = { ...NOTHING, unit, encounter: encounter.id };
  return (
    <li>
      <a
        href={addressOf(choice)}
        onClick={(event) => {
          if (event.metaKey || event.ctrlKey || event.shiftKey) return;
          event.preventDefault();
          go(choice);
        }}
      >
        <span className="bed">{bed === undefined ? words.patients.noBed : words.patients.bed(bed)}</span>
        <span>{patient.name ?? patient.identifier}</span>
        <span className="soft">{patient.name ? patient.identifier : ""}</span>
        <span className="soft">{stands}</span>
      </a>
    </li>
  );
}
