/**
 * The session's cookie, and what a browser says of where a request comes from. The cookie is out of reach of
 * scripts, goes to this service alone, and never with a request of another site. The plugin whose functions
 * read and write it is registered with the service.
 */

import type { IncomingHttpHeaders } from "node:http";
import { fastifyCookie } from "@fastify/cookie";
import { KNOWN_FOR } from "../access/places.js";

/** Where browsers find the service, if that is known. */
export interface Place {
  readonly publicOrigin: string | null;
}

/** Over TLS its name keeps every other host from setting one like it (RFC 6265bis, section 4.1.3.2). */
export function cookieName(place: Place): string {
  return isSecure(place) ? "__Host-session" : "session";
}

export function sessionSecret(headers: IncomingHttpHeaders, place: Place): string | undefined {
  if (headers.cookie === undefined) return undefined;
  return fastifyCookie.parse(headers.cookie)[cookieName(place)];
}

/** The header that gives a browser its session's secret; null takes it away. */
export function sessionCookie(secret: string | null, place: Place): string {
  return fastifyCookie.serialize(cookieName(place), secret ?? "", {
    path: "/",
    httpOnly: true,
    sameSite: "strict",
    secure: isSecure(place),
    ...(secret === null ? { maxAge: 0 } : {}),
  });
}

/** What a browser is known by at later sign-ins; it lets nobody in. */
export function browserCookie(secret: string, place: Place): string {
  return fastifyCookie.serialize(browserName(place), secret, {
    path: "/",
    httpOnly: true,
    sameSite: "strict",
    secure: isSecure(place),
    maxAge: KNOWN_FOR / 1_000,
  });
}

export function browserSecret(headers: IncomingHttpHeaders, place: Place): string | undefined {
  if (headers.cookie === undefined) return undefined;
  return fastifyCookie.parse(headers.cookie)[browserName(place)];
}

function browserName(place: Place): string {
  return isSecure(place) ? "__Host-browser" : "browser";
}

/** What the browser keeps while somebody signs in elsewhere: sent along when they are sent back, which is a link. */
export function signInCookie(kept: string | null, place: Place): string {
  return fastifyCookie.serialize(signInName(place), kept ?? "", {
    path: "/",
    httpOnly: true,
    sameSite: "lax",
    secure: isSecure(place),
    maxAge: kept === null ? 0 : SIGN_IN_LASTS,
  });
}

export function keptForSignIn(headers: IncomingHttpHeaders, place: Place): string | undefined {
  if (headers.cookie === undefined) return undefined;
  return fastifyCookie.parse(headers.cookie)[signInName(place)];
}

/** How long somebody may take to sign in elsewhere, in seconds. */
const SIGN_IN_LASTS = 600;

function signInName(place: Place): string {
  return isSecure(place) ? "__Host-sign-in" : "sign-in";
}

function isSecure({ publicOrigin }: Place): boolean {
  return publicOrigin?.startsWith("https:") ?? false;
}

/**
 * Whether a browser says that a page of another origin made this request. One that says nothing of it is no
 * browser that could have been led to it: all of them send one of the two with what is not a plain GET.
 */
export function isCrossSite(headers: IncomingHttpHeaders, { publicOrigin }: Place): boolean {
  const site = headers["sec-fetch-site"];
  if (site !== undefined && site !== "same-origin") return true;
  const { origin } = headers;
  if (origin === undefined) return false;
  return publicOrigin === null ? hostOf(origin) !== headers.host : origin !== publicOrigin;
}

function hostOf(origin: string): string | undefined {
  return URL.canParse(origin) ? new URL(origin).host : undefined;
}
