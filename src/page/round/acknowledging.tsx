/** The sheet in which a person says that they looked at a finding and why it may stand. */

import { useQueryClient } from "@tanstack/react-query";
import { type FormEvent, useState } from "react";
import { v7 } from "uuid";
import { refreshEncounter } from "../api/asking.js";
import { client } from "../api/client.js";
import { answerOf, SignedOut } from "../api/problems.js";
import type { Finding } from "../api/shapes.js";
import { signedOut } from "../sign-in/who.js";
import { Sheet } from "../ui/sheet.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { NotDone } from "./not-done.js";

/** The most letters of a remark. */
const MOST = 500;

interface AcknowledgingProps {
  readonly encounter: string;
  readonly finding: Finding;
  readonly close: () => void;
}

export function Acknowledging({ encounter, finding, close }: AcknowledgingProps) {
  const { words } = useSpeech();
  const queries = useQueryClient();
  const [reason, setReason] = useState("");
  const [failure, setFailure] = useState<unknown>(null);
  const [sending, setSending] = useState(false);
  // One key however often a remark is sent: a retry whose answer was lost is not recorded twice.
  const [key, setKey] = useState(() => v7());
  const send = async (event: FormEvent) => {
    event.preventDefault();
    if (sending) return;
    setSending(true);
    try {
      await answerOf(
        client.POST("/v1/encounters/{encounter}/findings/{finding}/acknowledgement", {
          params: { path: { encounter, finding: finding.id }, header: { "Idempotency-Key": key } },
          body: { reason },
        }),
      );
      refreshEncounter(queries, encounter);
      close();
    } catch (cause) {
      if (cause instanceof SignedOut) signedOut(queries);
      setFailure(cause);
      setSending(false);
    }
  };
  return (
    <Sheet title={words.findings[finding.code]} close={close}>
      <p lang="en">{together(finding.sentence)}</p>
      <p className="soft">{words.round.lookMeans}</p>
      {failure !== null && <NotDone title={words.round.notRecorded} failure={failure} />}
      <form className="remark" onSubmit={(event) => void send(event)}>
        <label htmlFor="remark">{words.round.remark}</label>
        <textarea
          id="remark"
          rows={3}
          required
          maxLength={MOST}
          value={reason}
          onChange={(event) => {
            setReason(event.target.value);
            setKey(v7());
          }}
        />
        <button type="submit" className="act" disabled={reason.trim() === "" || sending}>
          {words.round.record}
        </button>
      </form>
    </Sheet>
  );
}
