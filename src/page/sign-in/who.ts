/** Who is signed in, as far as the page knows: the caller, or nobody and what to tell them first. */

import { type QueryClient, queryOptions } from "@tanstack/react-query";
import { client } from "../api/client.js";
import { answerOf, SignedOut } from "../api/problems.js";
import type { Me } from "../api/shapes.js";
import { currentToken, forgetToken } from "../api/token.js";

const MINUTE = 60_000;
const KEY = ["who"];

export type Who =
  | { readonly me: Me; readonly told?: undefined }
  | { readonly me: null; readonly told: "ended" | "refused" | null };

export const aboutWho = queryOptions({
  queryKey: KEY,
  queryFn: async ({ signal, client: queries }): Promise<Who> => {
    try {
      return { me: await answerOf(client.GET("/v1/me", { signal })) };
    } catch (failure) {
      if (failure instanceof SignedOut) return nobodyAfter(queries);
      throw failure;
    }
  },
  // So that nothing of a patient stays on a screen that was left: who is no longer signed in is asked to.
  refetchInterval: MINUTE,
  refetchIntervalInBackground: true,
});

export function signedIn(queries: QueryClient, me: Me): void {
  queries.setQueryData<Who>(KEY, { me });
}

/** Nobody is signed in any more, as an answer just said. */
export function signedOut(queries: QueryClient): void {
  queries.setQueryData<Who>(KEY, nobodyAfter(queries));
}

/** Signs out: the session ends, the token is forgotten. */
export async function signOut(queries: QueryClient): Promise<void> {
  const bySession = currentToken() === null;
  forgetToken();
  queries.setQueryData<Who>(KEY, { me: null, told: null });
  if (bySession) await client.DELETE("/v1/session").catch(() => {});
}

function nobodyAfter(queries: QueryClient): Who {
  const before = queries.getQueryData<Who>(KEY);
  const byToken = currentToken() !== null;
  forgetToken();
  if (byToken) return { me: null, told: "refused" };
  return { me: null, told: before?.me ? "ended" : (before?.told ?? null) };
}
