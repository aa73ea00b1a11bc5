/** While a view is shown, what colleagues record of its unit's patients is heard, and asked for anew. */

import { useQueryClient } from "@tanstack/react-query";
import { useEffect } from "react";
import { refreshEncounter } from "../api/asking.js";
import { listenTo } from "../api/stream.js";

/** Listens to a unit's stream; null for none yet. */
export function useStream(unit: string | null): void {
  const queries = useQueryClient();
  useEffect(() => {
    if (unit === null) return;
    const ending = new AbortController();
    void listenTo(unit, ({ encounter }) => refreshEncounter(queries, encounter), ending.signal);
    return () => ending.abort();
  }, [unit, queries]);
}
