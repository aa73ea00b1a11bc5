/**
 * What every view of a stay stands in: the way back and out, the band over an earlier moment, and how asking went.
 * All figures of a view come from one round of questions; a failure leaves them standing.
 */

import { useQuery, useQueryClient } from "@tanstack/react-query";
import type { ReactNode } from "react";
import { NO_STAY } from "../address.js";
import { aboutShift, aboutUnits, lastSheetOf } from "../api/asking.js";
import { Refused } from "../api/problems.js";
import type { Settings } from "../api/shapes.js";
import type { StaySheet } from "../api/sheet.js";
import { AsOfBand } from "../round/as-of.js";
import { signOut } from "../sign-in/who.js";
import { Top } from "../ui/frame.js";
import { go } from "../ui/going.js";
import { useStream } from "../ui/hearing.js";
import { Failed, Loading } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";

/** What is known of a stay once it has been asked for. */
export interface Shown {
  readonly data: StaySheet;
  /** The unit's; null until they are known. */
  readonly settings: Settings | null;
  /** When it was answered, by the clock of this machine, in ms. */
  readonly answeredAt: number;
}

interface StayFrameProps {
  readonly encounter: string;
  /** "2026-03-04/day"; null for the latest shift. */
  readonly shift: string | null;
  /** The instant as of which it is shown; null for now. */
  readonly asOf: string | null;
  /** Ways to elsewhere, before those that every view has. */
  readonly ways?: ReactNode;
  readonly children: (shown: Shown) => ReactNode;
}

export function StayFrame({ encounter, shift, asOf, ways, children }: StayFrameProps) {
  const { words } = useSpeech();
  const queries = useQueryClient();
  const shown = useQuery(aboutShift(encounter, shift, asOf));
  const units = useQuery(aboutUnits);
  // What is not there, or not theirs any more, does not stay on the screen.
  const gone = shown.error instanceof Refused && shown.error.status < 500;
  const data = gone ? undefined : (shown.data ?? lastSheetOf(queries, encounter, asOf));
  useStream(data?.stay.unit ?? null);
  const unit = units.data?.find(({ id }) => id === data?.stay.unit);
  const until = data?.sheet?.shift.until ?? null;
  return (
    <>
      <Top unit={unit?.name ?? null} told={until === null ? null : words.shift.computedUpTo(clock(until))}>
        {ways}
        <button type="button" className="plain" onClick={() => go(NO_STAY)}>
          {words.patients.back}
        </button>
        <button type="button" className="plain" onClick={() => void signOut(queries)}>
          {words.signIn.out}
        </button>
      </Top>
      <main aria-busy={shown.isPlaceholderData}>
        <AsOfBand asOf={asOf} />
        {data === undefined && <h1 className="unseen">{words.title}</h1>}
        {shown.error && (
          <Failed
            failure={shown.error}
            staleFrom={data && until !== null ? clock(until) : null}
            again={() => void shown.refetch()}
          />
        )}
        {shown.isPending && data === undefined && <Loading />}
        {data &&
          children({ data, settings: unit?.settings ?? null, answeredAt: shown.dataUpdatedAt || Date.now() })}
      </main>
    </>
  );
}
