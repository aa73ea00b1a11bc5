/** Signing in at the hospital's identity provider: whether that is to be had, there and back again. */

import { z } from "zod";
import { callerOfClaims } from "../access/claims.js";
import { done, refused } from "../ledger/refusal.js";
import { WaysToSignIn } from "../wire/access.js";
import { keptForSignIn, sessionCookie, sessionSecret, signInCookie } from "./cookies.js";
import { type AnyRoute, route } from "./route.js";

const BEGIN = "/v1/session/provider";

const NO_PROVIDER = refused({ problem: "not-found", what: "provider", id: "sign-in" });

const word = (description: string) => z.string().max(4_000).optional().describe(description);

export const PROVIDER: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/session",
    operation: "getWaysToSignIn",
    tag: "Access",
    summary: "How to sign in",
    description: "Whether people can sign in at an identity provider, beside a name and a password.",
    open: true,
    answers: [
      {
        status: 200,
        description: "The ways there are.",
        schema: WaysToSignIn,
      },
    ],
    problems: [],
    handle: async (_, { access }) =>
      done({ status: 200, body: { provider: access.atProvider === null ? null : BEGIN } }),
  }),
  route({
    method: "GET",
    path: BEGIN,
    operation: "signInAtProvider",
    tag: "Access",
    summary: "Sign in at the identity provider",
    description: "Sends a browser to the hospital's identity provider (OpenID Connect, with PKCE).",
    open: true,
    answers: [{ status: 302, description: "To the provider.", headers: ["Location", "Set-Cookie"] }],
    problems: ["not-found"],
    handle: async (_, { access }) => {
      if (access.atProvider === null) return NO_PROVIDER;
      const { address, kept } = await access.atProvider.flow.begin();
      const headers = { location: address, "set-cookie": signInCookie(kept, access.settings) };
      return done({ status: 302, body: null, headers });
    },
  }),
  route({
    method: "GET",
    path: "/v1/session/provider/return",
    operation: "returnFromProvider",
    tag: "Access",
    summary: "Come back from the identity provider",
    description:
      "Where the provider sends a browser back to. Begins a session, with the role and the units that the provider's words stand for, and goes on to the pages.",
    open: true,
    query: z.looseObject({
      code: word("What the provider's tokens are had for."),
      state: word("What the browser was sent with."),
      iss: word("Who the provider is (RFC 9207)."),
    }),
    answers: [{ status: 302, description: "To the pages.", headers: ["Location", "Set-Cookie"] }],
    problems: ["not-found", "unauthenticated"],
    handle: async (_, { access, headers, query, warn, about }) => {
      const { atProvider, sessions, settings } = access;
      if (atProvider === null) return NO_PROVIDER;
      access.log.mustHaveRoom();
      const { code, state, iss } = query;
      const kept = keptForSignIn(headers, settings);
      const claims = await atProvider.flow.finish({ code, state, iss, kept });
      const caller = claims && callerOfClaims(claims, atProvider.rules);
      const begun = caller && (await sessions.signInKnown(caller, sessionSecret(headers, settings)));
      if (caller !== undefined) {
        about({ account: caller.id, change: begun?.change ?? [] }, begun?.session.caller);
      }
      if (begun === undefined) {
        warn({ known: claims !== undefined, role: caller?.role }, "sign-in at the provider refused");
        return refused({ problem: "unauthenticated", detail: "The identity provider let nobody in here." });
      }
      const cookies = [sessionCookie(begun.secret, settings), signInCookie(null, settings)];
      return done({ status: 302, body: null, headers: { location: "/", "set-cookie": cookies } });
    },
  }),
];
