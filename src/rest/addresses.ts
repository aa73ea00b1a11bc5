/** Addresses of the API: as the server matches them, and which methods there are at one. */

import { ROUTES } from "./routes.js";

export const PREFIX = "/v1";

/** A path as the server writes it: `/v1/units/{unit}` is `/v1/units/:unit`. */
export function patternOf(path: string): string {
  return path.replace(/\{(\w+)\}/g, ":$1");
}

const ADDRESSES = [...new Set(ROUTES.map(({ path }) => path))].map((path) => ({
  matches: new RegExp(`^${path.replace(/\{\w+\}/g, "[^/]+")}$`),
  methods: methodsOf(path),
}));

function methodsOf(path: string): string[] {
  const methods: string[] = ROUTES.filter((route) => route.path === path).map(({ method }) => method);
  return [...(methods.includes("GET") ? ["HEAD"] : []), ...methods, "OPTIONS"].sort();
}

/** The methods of an address, its query left aside; none where there is no route. */
export function methodsAt(url: string): readonly string[] {
  const path = url.replace(/\?.*$/s, "");
  return ADDRESSES.find(({ matches }) => matches.test(path))?.methods ?? [];
}
