/**
 * Calls of the public API by the client that is generated from its description; nothing else is on the
 * network. Every request says who asks (a token, or the session's cookie) and whether a person does.
 */

import createClient from "openapi-fetch";
import type { paths } from "../../../openapi/client.js";
import { attended } from "./presence.js";
import { currentToken } from "./token.js";

export const client = createClient<paths>({ baseUrl: "/" });

client.use({
  onRequest({ request }) {
    for (const [name, value] of Object.entries(credentials())) request.headers.set(name, value);
    if (!attended()) request.headers.set("unattended", "?1");
    return request;
  },
});

/** The header of a token; none for who has a session. */
export function credentials(): Record<string, string> {
  const token = currentToken();
  return token === null ? {} : { authorization: `Bearer ${token}` };
}
