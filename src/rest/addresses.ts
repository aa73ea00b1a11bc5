/** Addresses of the API: as the server matches them, and which methods there are at one. */

import { OPEN_ROUTES } from "./open-routes.js";
import { ROUTES } from "./routes.js";

export const PREFIX = "/v1";

/** A path as the server writes it: `/v1/units/{unit}` is `/v1/units/:unit`. */
export function patternOf(path: string): string {
  return path.replace(/\{(\w+)\}/g, ":$1");
}

const ADDRESSES = [...new Set(ROUTES.map(({ path }) => path))].map((path) => ({
  matches: patternFor(path),
  methods: methodsOf(path),
}));

function patternFor(path: string): RegExp {
  return new RegExp(`^${path.replace(/\{\w+\}/g, "[^/]+")}$`);
}

function methodsOf(path: string): string[] {
  const methods: string[] = ROUTES.filter((route) => route.path === path).map(({ method }) => method);
  return [...(methods.includes("GET") ? ["HEAD"] : []), ...methods, "OPTIONS"].sort();
}

/** The operation that a request is for, such as `GET /v1/units/{unit}`. Throws where there is none. */
export function operationAt(method: string, url: string): string {
  const path = url.replace(/\?.*$/s, "");
  const all: readonly { readonly method: string; readonly path: string }[] = [...ROUTES, ...OPEN_ROUTES];
  const found = all.find((route) => route.method === method && patternFor(route.path).test(path));
  if (found === undefined) throw new TypeError(`there is no ${method} ${path}`);
  return `${found.method} ${found.path}`;
}

/** The methods of an address, its query left aside; none where there is no route. */
export function methodsAt(url: string): readonly string[] {
  const path = url.replace(/\?.*$/s, "");
  return ADDRESSES.find(({ matches }) => matches.test(path))?.methods ?? [];
}
