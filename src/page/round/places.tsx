/** The views of one stay beside each other: the shift, its findings, what was recorded, what changed, a chart. */

import type { Stay } from "../api/shapes.js";
import { useChoice } from "../ui/going.js";
import { useSpeech } from "../words/language.js";
import { Link } from "./link.js";

const PLACES = [null, "findings", "history", "changes", "chart"] as const;

export function Places({ stay }: { readonly stay: Pick<Stay, "id"> }) {
  const { words } = useSpeech();
  const choice = useChoice();
  return (
    <nav className="places" aria-label={words.round.views}>
      <ul>
        {PLACES.map((view) => (
          <li key={view}>
            <Link
              to={{ ...choice, encounter: stay.id, view, entry: null, since: null }}
              here={choice.view === view}
            >
              {words.round.places[view ?? "shift"]}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}
