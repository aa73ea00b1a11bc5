/** Asking what recording would do, a moment after the last key, and again whenever it is something else. */

import { keepPreviousData, useQuery } from "@tanstack/react-query";
import { useEffect, useState } from "react";
import { tried } from "../api/record.js";
import type { Posted } from "../api/shapes.js";

/** So long after the last key it is asked, in ms. */
const PAUSE = 150;

/** What recording entries would do; null for entries that are not whole yet. */
export function useTried(encounter: string, entries: readonly Posted[] | null) {
  const key = entries === null ? null : JSON.stringify(entries);
  const [settled, setSettled] = useState<string | null>(key);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(key), PAUSE);
    return () => clearTimeout(timer);
  }, [key]);
  const asked = useQuery({
    queryKey: ["tried", encounter, settled],
    queryFn: ({ signal }) => tried(encounter, JSON.parse(settled ?? "[]") as Posted[], signal),
    enabled: settled !== null && settled === key,
    placeholderData: keepPreviousData,
    gcTime: 0,
  });
  const current = key !== null && settled === key && !asked.isPlaceholderData;
  return {
    /** What was answered last, also of what was typed before. */
    shown: key === null ? undefined : asked.data,
    /** What was answered to just this. */
    data: current ? asked.data : undefined,
    error: current ? asked.error : null,
    pending: key !== null && (!current || asked.isFetching) && !(current && asked.error !== null),
  };
}
