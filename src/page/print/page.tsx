/** A shift as a sheet of paper: looked at before it is printed or saved, on the paper and in the form chosen. */

import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { aboutShift, aboutUnits } from "../api/asking.js";
import "../look/print.css";
import { Refused } from "../api/problems.js";
import type { Unit } from "../api/shapes.js";
import type { ShiftSheet, StaySheet } from "../api/sheet.js";
import { aboutWho } from "../sign-in/who.js";
import { Top } from "../ui/frame.js";
import { go } from "../ui/going.js";
import { ViewHeading } from "../ui/heading.js";
import { useStream } from "../ui/hearing.js";
import { Empty, Failed, Loading } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { PRINTED } from "../words/printed.js";
import { clock } from "../words/wall.js";
import { chartOf } from "./chart.js";
import { handoverOf } from "./handover.js";
import { pageRule, usePageRule } from "./page-rule.js";
import { type Paper, usualPaper } from "./paper.js";
import { PaperSheet } from "./paper-sheet.js";
import type { PrintKind } from "./sheet.js";

interface PrintPageProps {
  readonly encounter: string;
  readonly shift: string | null;
  readonly kind: PrintKind;
  /** Null for the usual one. */
  readonly paper: Paper | null;
}

export default function PrintPage({ encounter, shift, kind, paper }: PrintPageProps) {
  const { words, language } = useSpeech();
  const printed = PRINTED[language];
  const asked = useQuery(aboutShift(encounter, shift));
  const units = useQuery(aboutUnits);
  // What is not there, or not theirs any more, is not printed; nor is another shift while this one is loading.
  const gone = asked.error instanceof Refused && asked.error.status < 500;
  const data = gone || asked.isPlaceholderData ? undefined : asked.data;
  useStream(data?.stay.unit ?? null);
  const unit = units.data?.find(({ id }) => id === data?.stay.unit) ?? null;
  return (
    <>
      <Top unit={unit?.name ?? null} told={null}>
        <button type="button" className="plain" onClick={() => go({ print: null, paper: null })}>
          {printed.back}
        </button>
      </Top>
      <main className="printing">
        <ViewHeading className="unseen">{printed.titles[kind]}</ViewHeading>
        {asked.error && (
          <Failed
            failure={asked.error}
            staleFrom={data?.sheet ? clock(data.sheet.shift.until) : null}
            again={() => void asked.refetch()}
          />
        )}
        {(asked.isPending || asked.isPlaceholderData || units.isPending) && <Loading />}
        {data?.sheet === null && <Empty>{words.shift.none}</Empty>}
        {data?.sheet && !units.isPending && (
          <ToPrint
            kind={kind}
            paper={paper ?? usualPaper(navigator.languages)}
            stay={data.stay}
            sheet={data.sheet}
            unit={unit}
          />
        )}
      </main>
    </>
  );
}

interface ToPrintProps {
  readonly kind: PrintKind;
  readonly paper: Paper;
  readonly stay: StaySheet["stay"];
  readonly sheet: ShiftSheet;
  readonly unit: Unit | null;
}

function ToPrint({ kind, paper, stay, sheet: answers, unit }: ToPrintProps) {
  const speech = useSpeech();
  const words = PRINTED[speech.language];
  const by = useQuery({ ...aboutWho, enabled: false }).data?.me?.name ?? null;
  const make = kind === "handover" ? handoverOf : chartOf;
  const sheet = make({ stay, sheet: answers, unit, by, speech, words });
  usePageRule(pageRule(paper, sheet.landscape, words.page));
  const [saving, setSaving] = useState<"no" | "now" | "failed">("no");
  const save = async () => {
    setSaving("now");
    try {
      const { savePdf } = await import("./pdf/save.js");
      await savePdf(sheet, paper, words, `${kind}-${answers.shift.shift.replace("/", "-")}.pdf`);
      setSaving("no");
    } catch {
      setSaving("failed");
    }
  };
  return (
    <>
      <div className="controls">
        <label>
          {words.which}{" "}
          <select value={kind} onChange={(event) => go({ print: event.target.value as PrintKind })}>
            {(["handover", "chart"] as const).map((one) => (
              <option key={one} value={one}>
                {words.titles[one]}
              </option>
            ))}
          </select>
        </label>
        <label>
          {words.paper}{" "}
          <select value={paper} onChange={(event) => go({ paper: event.target.value as Paper })}>
            {(["a4", "letter"] as const).map((one) => (
              <option key={one} value={one}>
                {words.papers[one]}
              </option>
            ))}
          </select>
        </label>
        <button type="button" className="act" onClick={() => print()}>
          {words.print}
        </button>
        <button type="button" disabled={saving === "now"} onClick={() => void save()}>
          {words.save}
        </button>
        <p className="soft" aria-live="polite">
          {saving === "now" ? words.saving : saving === "failed" ? words.notSaved : words.stays}
        </p>
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: where the paper is wider than the screen, keys scroll it */}
      <section className="desk" aria-label={sheet.title} tabIndex={0}>
        <PaperSheet sheet={sheet} paper={paper} noName={words.noName} />
      </section>
    </>
  );
}
