/** Signing in to the pages and out again, and who a caller is. */

import type { Session } from "../access/sessions.js";
import type { Caller } from "../ledger/ledger.js";
import { done, type Outcome, refused } from "../ledger/refusal.js";
import { SignInBody } from "../wire/access.js";
import { Me } from "../wire/answers/callers.js";
import { browserCookie, browserSecret, isCrossSite, sessionCookie, sessionSecret } from "./cookies.js";
import { type Answered, type AnyRoute, type Asked, bodyOf, route } from "./route.js";

export const SESSION: readonly AnyRoute[] = [
  route({
    method: "POST",
    path: "/v1/session",
    operation: "signIn",
    tag: "Access",
    summary: "Sign in",
    description:
      "Begins a session, whose cookie then stands for the caller as a token does. It is for browsers: out of reach of scripts, and never sent along from another site. It ends when nobody uses it for a while and at the latest after a shift. A request with the header `Unattended: ?1`, which a page sends when it asks by itself, is no use. Failed attempts slow further ones down, of the account and of the address; where an account has signed in from before, by its browser or its address, those from there alone.",
    open: true,
    body: bodyOf(SignInBody, "The name and the password."),
    answers: [
      {
        status: 201,
        description: "The caller is signed in.",
        schema: Me,
        headers: ["Set-Cookie"],
      },
    ],
    problems: ["unauthenticated", "cross-site"],
    handle: (_, asked) => signIn(asked),
  }),
  route({
    method: "DELETE",
    path: "/v1/session",
    operation: "signOut",
    tag: "Access",
    summary: "Sign out",
    description: "Ends the session that the request came with; a token has none, and stays good.",
    answers: [{ status: 204, description: "It has ended.", headers: ["Set-Cookie"] }],
    problems: [],
    handle: async (_, { access, session, caller, about }) => {
      if (session !== null) {
        await access.sessions.signOut(session.hash);
        about({ account: caller.id, change: [] });
      }
      const headers = { "set-cookie": sessionCookie(null, access.settings) };
      return done({ status: 204, body: null, headers });
    },
  }),
  route({
    method: "GET",
    path: "/v1/me",
    operation: "getMe",
    tag: "Access",
    summary: "Who the caller is",
    description: "The caller as entries will name it, its role, and the only units it may act on.",
    answers: [{ status: 200, description: "The caller.", schema: Me }],
    problems: [],
    handle: async (_, { caller, session }) => done({ status: 200, body: meText(caller, session) }),
  }),
];

async function signIn({
  access,
  body,
  headers,
  address,
  about,
}: Asked<unknown, { username: string; password: string }>): Promise<Outcome<Answered>> {
  if (isCrossSite(headers, access.settings)) return refused({ problem: "cross-site" });
  const before = sessionSecret(headers, access.settings);
  access.log.mustHaveRoom();
  const browser = browserSecret(headers, access.settings);
  const signed = await access.sessions.signIn({ ...body, address, browser, before });
  if ("wait" in signed) return refused({ problem: "too-many-requests", seconds: signed.wait });
  if ("wrong" in signed) {
    about({ account: signed.account, change: [] });
    return refused({ problem: "unauthenticated", detail: "The name or the password is not right." });
  }
  const { session, secret } = signed;
  about({ account: session.caller.id, change: [] }, session.caller);
  const cookies = [sessionCookie(secret, access.settings), browserCookie(signed.browser, access.settings)];
  return done({ status: 201, body: meText(session.caller, session), headers: { "set-cookie": cookies } });
}

function meText({ id, name, role, units }: Caller, session: Session | null): object {
  if (session === null) return { id, name, role, units };
  const lasting = { endsAt: new Date(session.endsAt).toISOString(), idleSeconds: session.idle / 1_000 };
  return { id, name, role, units, session: lasting };
}
