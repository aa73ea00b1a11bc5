/**
 * Ids of entries, made before they are sent: what is sent again because no answer came is then recorded once. A
 * UUID of version 7 (RFC 9562), since the ledger keeps ids in order; made by hand, since `randomUUID` is only
 * there on pages that came by TLS.
 */

export function newId(now: number = Date.now()): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  for (let index = 0; index < 6; index++) bytes[index] = Math.floor(now / 2 ** (8 * (5 - index))) % 256;
  bytes[6] = (bytes[6]! % 16) + 0x70;
  bytes[8] = (bytes[8]! % 64) + 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
}
