/** One recording from its form to its answer: what would be sent, what is asked, and sending it. */

import { useMutation, useQueryClient } from "@tanstack/react-query";
import { useReducer } from "react";
import { refreshEncounter } from "../api/asking.js";
import { newId } from "../api/new-id.js";
import { NoAnswer } from "../api/problems.js";
import { questionsIn, record, type Tried } from "../api/record.js";
import type { Posted, Recorded, TotalAtRisk } from "../api/shapes.js";
import { confirmed, explained, withRisksAnswered } from "./answering.js";
import { type Change, changed, type Draft, newDraft } from "./draft.js";
import { enteredIn, type Field, type Form, lacking } from "./form.js";
import { withIds } from "./request.js";
import { type Clock, chosenTime } from "./time.js";
import { useTried } from "./trying.js";

export interface RecordingState {
  readonly draft: Draft;
  readonly change: (change: Change) => void;
  readonly fields: readonly Field[];
  /** Totals that would be lost. */
  readonly risks: readonly TotalAtRisk[];
  /** What recording would do, as far as it is known. */
  readonly tried: Tried | undefined;
  readonly trying: boolean;
  /** Why nobody knows what it would do. */
  readonly untried: unknown;
  /** What would be sent now; null while something lacks. */
  readonly request: readonly Posted[] | null;
  readonly ready: boolean;
  readonly sending: boolean;
  readonly failure: unknown;
  send(): void;
  /** Sends that the device was looked at again. */
  confirm(): void;
}

interface Recorder {
  readonly encounter: string;
  readonly form: Form;
  readonly clock: Clock;
  readonly decimal: string;
  readonly done: (recorded: Recorded) => void;
}

export function useRecording({ encounter, form, clock, decimal, done }: Recorder): RecordingState {
  const queries = useQueryClient();
  const [draft, change] = useReducer(changed, form, ({ initial, time }) => newDraft(newId(), initial, time));
  const fields = form.fields(draft.values);
  const at = form.timed ? chosenTime(draft.time, clock).at : "";
  const whole = at !== null && lacking(fields, draft.values, decimal).length === 0;
  const made = whole ? form.entries(enteredIn(fields, draft.values, decimal), at) : null;
  const main = made === null ? null : withIds(made, draft.base);
  const first = useTried(encounter, main);
  const risks = (main === null ? [] : first.shown?.asked?.atRisk) ?? [];
  const kept = main === null || first.pending ? null : withRisksAnswered(main, risks, draft, decimal);
  const looked = draft.secondLook === null ? kept : explained(draft.secondLook, draft, decimal);
  const further = risks.length > 0 || draft.secondLook !== null;
  const second = useTried(encounter, further ? looked : null);
  const last = further ? second : first;

  const sending = useMutation({
    networkMode: "always",
    mutationFn: (entries: readonly Posted[]) => record(encounter, entries),
    onSuccess: (recorded) => {
      refreshEncounter(queries, encounter);
      done(recorded);
    },
    onError: (failure, entries) => {
      const asked = questionsIn(failure);
      if (asked === null) return;
      const { disagreements } = asked;
      if (disagreements.length > 0)
        change({ do: "doubted", secondLook: { request: entries, disagreements } });
      else void queries.invalidateQueries({ queryKey: ["tried", encounter] });
    },
  });
  const post = (entries: readonly Posted[] | null) => {
    if (entries === null || sending.isPending) return;
    if (at !== null && at !== "") change({ do: "sent", at });
    sending.mutate(entries);
  };
  // Without an answer it can be sent all the same: what waits for the network waits there.
  const known = last.data !== undefined || last.error instanceof NoAnswer;
  return {
    draft,
    change: (what) => {
      sending.reset();
      change(what);
    },
    fields,
    risks,
    tried: last.shown,
    trying: last.pending,
    untried: last.error,
    request: looked,
    ready: looked !== null && known && !sending.isPending,
    sending: sending.isPending,
    failure: questionsIn(sending.error) === null ? sending.error : null,
    send: () => post(looked),
    confirm: () => post(draft.secondLook && confirmed(draft.secondLook)),
  };
}
