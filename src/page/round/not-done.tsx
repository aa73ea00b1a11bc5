/** That something a person asked to be done was not, and why: in the words of the page, else in the service's. */

import { NoAnswer, Refused } from "../api/problems.js";
import { useSpeech } from "../words/language.js";

interface NotDoneProps {
  readonly title: string;
  readonly failure: unknown;
}

export function NotDone({ title, failure }: NotDoneProps) {
  const { words } = useSpeech();
  return (
    <div className="notice" role="alert">
      <p>
        <strong>{title}</strong> {failure instanceof NoAnswer && words.failed.noAnswer}
        {failure instanceof Refused && <span lang="en">{failure.message}</span>}
        {!(failure instanceof NoAnswer || failure instanceof Refused) && words.failed.unread}
      </p>
    </div>
  );
}
