/** The variables of the environment that say who is let in: how long sessions last, where browsers find the service, the identity provider. */

import { isIP } from "node:net";
import type { ClientSettings } from "./access/code-flow.js";
import { type AccessSettings, DEFAULT_ACCESS, pairsIn, rolesIn } from "./access/settings.js";
import { Fault } from "./config-fault.js";

/** Where the provider sends people back to; it must know this address. */
const RETURN = "/v1/session/provider/return";

export const ACCESS_DEFAULTS = {
  PUBLIC_URL: "",
  TRUSTED_PROXIES: "",
  SESSION_IDLE_MINUTES: "10",
  SESSION_HOURS: "12",
  OIDC_ISSUER: "",
  OIDC_AUDIENCE: "",
  OIDC_ROLE_CLAIM: "roles",
  OIDC_ROLES: "",
  OIDC_UNIT_CLAIM: "units",
  OIDC_UNITS: "",
  OIDC_CLIENT_ID: "",
  OIDC_CLIENT_SECRET: "",
  OIDC_SCOPE: "openid profile",
} as const;

export type AccessVariable = keyof typeof ACCESS_DEFAULTS;

/** Reads one variable, and notes what is wrong with it. */
export type Read = <T>(name: AccessVariable, understand: (text: string) => T | Fault) => T;

export function accessIn(read: Read): AccessSettings {
  const idle = read("SESSION_IDLE_MINUTES", wholeNumberIn(1, 720)) * 60_000;
  const whole = read("SESSION_HOURS", wholeNumberIn(1, 24)) * 3_600_000;
  const publicOrigin = read("PUBLIC_URL", originIn);
  return {
    sessions: { idle, whole },
    passwordCost: DEFAULT_ACCESS.passwordCost,
    publicOrigin,
    proxies: read("TRUSTED_PROXIES", addressesIn),
    provider: providerIn(read, publicOrigin),
  };
}

/** A provider is asked for by its issuer; the other variables say nothing without it. */
function providerIn(read: Read, publicOrigin: string | null): AccessSettings["provider"] {
  const issuer = read("OIDC_ISSUER", issuerIn);
  // Without a provider the rest says nothing; with a fault in its name one fault is enough.
  if (typeof issuer !== "string") return null;
  return {
    issuer,
    audience: read(
      "OIDC_AUDIENCE",
      (text) => text || new Fault("must say for whom the provider's tokens are."),
    ),
    roleClaim: read("OIDC_ROLE_CLAIM", (text) => text),
    roles: read("OIDC_ROLES", (text) => {
      const example = "such as ward-nurse=nurse,ward-lead=charge-nurse";
      return rolesIn(text) ?? new Fault(`must say which of the provider's words is which role, ${example}.`);
    }),
    unitsClaim: read("OIDC_UNIT_CLAIM", (text) => text),
    units: read("OIDC_UNITS", (text) => {
      if (text === "") return null;
      const example = "such as group-east=east-4,hospital=*";
      return pairsIn(text) ?? new Fault(`must say which of the provider's words is which unit, ${example}.`);
    }),
    client: clientIn(read, publicOrigin),
  };
}

/** What people need to sign in at the provider: it must know this service, and where to send them back to. */
function clientIn(read: Read, publicOrigin: string | null): ClientSettings | null {
  const id = read("OIDC_CLIENT_ID", (text) => {
    if (text === "" || publicOrigin !== null) return text;
    return new Fault("needs PUBLIC_URL, where the provider sends people back to.");
  });
  if (id === "") return null;
  return {
    id,
    secret: read("OIDC_CLIENT_SECRET", (text) => text || null),
    scope: read("OIDC_SCOPE", (text) => text),
    returnTo: `${publicOrigin}${RETURN}`,
  };
}

function wholeNumberIn(least: number, most: number) {
  return (text: string): number | Fault => {
    if (/^\d{1,4}$/.test(text) && Number(text) >= least && Number(text) <= most) return Number(text);
    return new Fault(`must be a whole number from ${least} to ${most}, and is "${text}".`);
  };
}

function originIn(text: string): string | null | Fault {
  if (text === "") return null;
  const url = URL.canParse(text) ? new URL(text) : undefined;
  const bare =
    url !== undefined && /^https?:$/.test(url.protocol) && url.pathname === "/" && url.search === "";
  if (bare && url.username === "") return url.origin;
  return new Fault(
    `must be where browsers find the service, such as https://ledger.example.org, and is "${text}".`,
  );
}

/** Whoever could come between the service and its provider could say who anybody is: TLS, or this machine alone. */
function issuerIn(text: string): string | null | Fault {
  if (text === "") return null;
  const url = URL.canParse(text) ? new URL(text) : undefined;
  const here = url !== undefined && /^(localhost|127\.0\.0\.1|\[::1\])$/.test(url.hostname);
  if (url?.protocol === "https:" || (here && url?.protocol === "http:")) return text;
  return new Fault(`must be the address of an identity provider, with https, and is "${text}".`);
}

function addressesIn(text: string): readonly string[] | Fault {
  const addresses = text === "" ? [] : text.split(",").map((one) => one.trim());
  const wrong = addresses.find((one) => isIP(one.replace(/\/\d{1,3}$/, "")) === 0);
  if (wrong === undefined) return addresses;
  return new Fault(`must be addresses or blocks of them, such as 10.0.0.1,10.1.0.0/16, and has "${wrong}".`);
}
