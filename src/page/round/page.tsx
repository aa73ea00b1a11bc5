/** The round: a unit's shift at a glance, by what is most at stake, and how well it is documented. */

import { useQueries, useQuery, useQueryClient } from "@tanstack/react-query";
import { useState } from "react";
import { type Choice, NO_STAY } from "../address.js";
import { aboutPatients, aboutUnits } from "../api/asking.js";
import type { Audit, Unit } from "../api/shapes.js";
import { signOut } from "../sign-in/who.js";
import { Top } from "../ui/frame.js";
import { go } from "../ui/going.js";
import { ViewHeading } from "../ui/heading.js";
import { useStream } from "../ui/hearing.js";
import { Empty, Failed, Loading } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";
import { AsOfBand, AsOfChoice } from "./as-of.js";
import { aboutAudit, aboutLatestShift, aboutPart, type Sifted } from "./asking.js";
import { Download, RoundControls } from "./controls.js";
import { Measures } from "./measures.js";
import { RoundTable } from "./patients.js";
import { byBed, byStake, rowOf } from "./standing.js";

export default function RoundPage({ choice }: { readonly choice: Choice }) {
  const { words } = useSpeech();
  const queries = useQueryClient();
  const units = useQuery(aboutUnits);
  const unit = units.data?.find(({ id }) => id === choice.unit) ?? units.data?.[0];
  return (
    <>
      <Top unit={unit?.name ?? null} told={null}>
        <button type="button" className="plain" onClick={() => go(NO_STAY)}>
          {words.patients.back}
        </button>
        <button type="button" className="plain" onClick={() => void signOut(queries)}>
          {words.signIn.out}
        </button>
      </Top>
      <main>
        <AsOfBand asOf={choice.asOf} />
        <ViewHeading>{words.round.heading}</ViewHeading>
        {units.error && <Failed failure={units.error} staleFrom={null} again={() => void units.refetch()} />}
        {units.isPending && <Loading />}
        {units.data?.length === 0 && <Empty>{words.patients.noUnits}</Empty>}
        {unit && <OfUnit key={unit.id} unit={unit} choice={choice} />}
      </main>
    </>
  );
}

interface OfUnitProps {
  readonly unit: Unit;
  readonly choice: Choice;
}

function OfUnit({ unit, choice }: OfUnitProps) {
  const latest = useQuery(aboutLatestShift(unit));
  useStream(unit.id);
  if (latest.error) {
    return <Failed failure={latest.error} staleFrom={null} again={() => void latest.refetch()} />;
  }
  if (latest.data === undefined) return <Loading />;
  return <OfShift unit={unit} latest={latest.data} shift={choice.shift ?? latest.data} asOf={choice.asOf} />;
}

interface OfShiftProps {
  readonly unit: Unit;
  readonly latest: string;
  readonly shift: string;
  readonly asOf: string | null;
}

/** In which order, and whether all of them. */
type Order = "stake" | "bed";

function OfShift({ unit, latest, shift, asOf }: OfShiftProps) {
  const [sifted, setSifted] = useState<Sifted>({ counted: null, sort: null });
  const [order, setOrder] = useState<Order>("stake");
  const asked = { unit: unit.id, shift, asOf, sifted };
  const audit = useQuery(aboutAudit(asked));
  if (audit.error) {
    return <Failed failure={audit.error} staleFrom={null} again={() => void audit.refetch()} />;
  }
  if (audit.data === undefined) return <Loading />;
  return (
    <div className="round-shown" aria-busy={audit.isPlaceholderData}>
      <RoundControls
        unit={unit}
        shift={shift}
        latest={latest}
        audit={audit.data}
        sifted={sifted}
        order={order}
        sift={setSifted}
        sort={setOrder}
      />
      <Rows audit={audit.data} unit={unit} asOf={asOf} order={order} sifted={sifted} />
      <Measures audit={audit.data} sift={setSifted} sifted={sifted} />
      <Download asked={asked} />
      <AsOfChoice zone={audit.data.zone} at={audit.data.until} />
    </div>
  );
}

interface RowsProps {
  readonly audit: Audit;
  readonly unit: Unit;
  readonly asOf: string | null;
  readonly order: Order;
  readonly sifted: Sifted;
}

function Rows({ audit, unit, asOf, order, sifted }: RowsProps) {
  const { words } = useSpeech();
  const stays = useQuery(aboutPatients(unit.id, false)).data ?? [];
  const parts = useQueries({
    queries: audit.encounters.map(({ encounter }) => aboutPart(encounter, audit.shift, asOf)),
  });
  const rows = audit.encounters.map((audited, index) =>
    rowOf(
      audited,
      stays.find(({ id }) => id === audited.encounter),
      parts[index]?.data ?? null,
    ),
  );
  const failed = parts.find(({ error }) => error !== null);
  const inOrder = order === "bed" ? [...rows].sort(byBed) : byStake(rows);
  if (rows.length === 0) {
    return <Empty>{sifted.counted === null ? words.round.nobody : words.round.noneCounted}</Empty>;
  }
  return (
    <>
      {failed && <Failed failure={failed.error} staleFrom={null} again={() => void failed.refetch()} />}
      {parts.some(({ isPending }) => isPending) && <Loading />}
      <p className="soft">{words.round.upTo(clock(audit.until), rows.length)}</p>
      <RoundTable
        rows={sifted.sort === null ? inOrder : rows}
        measure={audit.measures.find(({ key }) => key === (sifted.sort ?? sifted.counted)) ?? null}
      />
    </>
  );
}
