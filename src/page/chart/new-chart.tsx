/** A chart out of comma-separated text, pasted or from a file: read, compared with the ledger, and kept if it shall be. */

import { useQuery, useQueryClient } from "@tanstack/react-query";
import { type ChangeEvent, useState } from "react";
import { v7 } from "uuid";
import { refreshEncounter } from "../api/asking.js";
import { Refused, SignedOut } from "../api/problems.js";
import type { Reconciliation } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { NotDone } from "../round/not-done.js";
import { aboutWho, signedOut } from "../sign-in/who.js";
import { useSpeech } from "../words/language.js";
import { LANGUAGES } from "../words/speech.js";
import { compare, keep } from "./asking.js";
import { Beside } from "./beside.js";
import type { Heading } from "./columns.js";
import { Faults } from "./faults.js";
import { type ReadChart, readChart, refusedCells } from "./read.js";
import { ChartTable } from "./table.js";

interface NewChartProps {
  readonly encounter: string;
  readonly sheet: ShiftSheet;
  readonly asOf: string | null;
  /** Told the id of a chart that was kept. */
  readonly kept: (chart: string) => void;
}

interface Shown {
  readonly read: ReadChart;
  readonly answer: Reconciliation | null;
}

export function NewChart({ encounter, sheet, asOf, kept }: NewChartProps) {
  const { words } = useSpeech();
  const queries = useQueryClient();
  const { shift } = sheet;
  const [text, setText] = useState("");
  const [heading, setHeading] = useState<Heading>("begins");
  const [shown, setShown] = useState<Shown | null>(null);
  const [failure, setFailure] = useState<unknown>(null);
  const [busy, setBusy] = useState(false);
  const failed = (cause: unknown) => {
    if (cause instanceof SignedOut) signedOut(queries);
    setFailure(cause);
    setBusy(false);
  };
  const show = async (from: string, by: Heading) => {
    const { intervals: hours, rows: lines } = shift.volumes;
    const read = readChart(from, { hours, lines, heading: by, languages: Object.values(LANGUAGES) });
    setFailure(null);
    setShown({ read, answer: null });
    if (read.faults.length > 0) return;
    setBusy(true);
    try {
      const body = { shift: shift.shift, figures: [...read.figures] };
      setShown({ read, answer: await compare(encounter, body, asOf) });
      setBusy(false);
    } catch (cause) {
      const refused = cause instanceof Refused ? refusedCells(cause.problem, read.cells) : [];
      if (refused.length === 0) return failed(cause);
      setShown({ read: { ...read, faults: refused }, answer: null });
      setBusy(false);
    }
  };
  const upload = async ({ target }: ChangeEvent<HTMLInputElement>) => {
    const content = await target.files?.[0]?.text();
    // The same file again, once it was put right, is a change too.
    target.value = "";
    if (content !== undefined) setText(content);
  };
  return (
    <>
      <h3 className="gap">{words.chart.paste}</h3>
      <p className="soft">{words.chart.hint}</p>
      <div className="remark">
        <label htmlFor="chart-text">{words.chart.text}</label>
        <textarea
          id="chart-text"
          rows={8}
          spellCheck={false}
          placeholder={words.chart.example}
          value={text}
          onChange={({ target }) => setText(target.value)}
        />
      </div>
      <div className="controls">
        <label className="file">
          {words.chart.file}{" "}
          <input type="file" accept=".csv,text/csv,text/plain" onChange={(event) => void upload(event)} />
        </label>
        <label className="field">
          {words.chart.headingMeans}
          <select value={heading} onChange={({ target }) => setHeading(target.value as Heading)}>
            <option value="begins">{words.chart.begins}</option>
            <option value="ends">{words.chart.ends}</option>
          </select>
        </label>
        <button
          type="button"
          className="act"
          disabled={text.trim() === "" || busy}
          onClick={() => void show(text, heading)}
        >
          {words.chart.compare}
        </button>
      </div>
      {busy && (
        <p className="empty" role="status">
          {words.loading}…
        </p>
      )}
      {shown && shown.read.faults.length > 0 && <Faults faults={shown.read.faults} />}
      {failure !== null && <NotDone failure={failure} title={words.chart.notCompared} />}
      {shown?.answer && (
        <>
          <Beside answer={shown.answer} shift={shift} />
          <ChartTable figures={shown.read.figures} answer={shown.answer} shift={shift} />
          {asOf === null && (
            <Keeping encounter={encounter} read={shown.read} shift={shift.shift} kept={kept} />
          )}
        </>
      )}
    </>
  );
}

interface KeepingProps {
  readonly encounter: string;
  readonly read: ReadChart;
  readonly shift: string;
  readonly kept: (chart: string) => void;
}

function Keeping({ encounter, read, shift, kept }: KeepingProps) {
  const { words } = useSpeech();
  const queries = useQueryClient();
  const role = useQuery({ ...aboutWho, enabled: false }).data?.me?.role;
  const [source, setSource] = useState("");
  const [failure, setFailure] = useState<unknown>(null);
  const [key, setKey] = useState(() => v7());
  if (role !== "charge-nurse") return null;
  const send = async () => {
    const named = source.trim() === "" ? {} : { source: source.trim() };
    try {
      const id = await keep(encounter, { shift, figures: [...read.figures], ...named }, key);
      refreshEncounter(queries, encounter);
      kept(id);
    } catch (cause) {
      if (cause instanceof SignedOut) signedOut(queries);
      setFailure(cause);
    }
  };
  return (
    <div className="controls">
      <label>
        {words.chart.source}{" "}
        <input
          type="text"
          maxLength={200}
          value={source}
          onChange={({ target }) => {
            setSource(target.value);
            setKey(v7());
          }}
        />
      </label>
      <button type="button" className="act" onClick={() => void send()}>
        {words.chart.keep}
      </button>
      {failure !== null && <NotDone failure={failure} title={words.round.notRecorded} />}
    </div>
  );
}
