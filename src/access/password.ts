/**
 * Passwords, of which only a slow hash is kept: scrypt (RFC 7914) with a salt of its own each, and the
 * cost beside it, so that the cost can rise without anybody losing their password.
 */

import { randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from "node:crypto";

export interface Cost {
  /** The logarithm to base 2 of scrypt's N. */
  readonly ln: number;
  readonly r: number;
  readonly p: number;
}

/**
 * 32 MiB for each sign-in. One of the equally strong choices of the OWASP Password Storage Cheat Sheet,
 * "scrypt": N = 2^15, r = 8, p = 3; taken for its memory, since several people sign in at a shift's start.
 */
export const COST: Cost = { ln: 15, r: 8, p: 3 };

const SALT_BYTES = 16;
const HASH_BYTES = 32;

/** Fewer characters can be guessed; more than the most are nobody's password and only cost time. */
export const SHORTEST = 12;
export const LONGEST = 200;

/** In the string format for password hashes: `$scrypt$ln=15,r=8,p=3$<salt>$<hash>`, base64 without padding. */
const FORM = /^\$scrypt\$ln=(\d{1,2}),r=(\d{1,2}),p=(\d{1,2})\$([A-Za-z0-9+/]+)\$([A-Za-z0-9+/]+)$/;

/** The text to keep of a password. */
export async function hashOfPassword(password: string, cost: Cost = COST): Promise<string> {
  const salt = randomBytes(SALT_BYTES);
  const hash = await derived(password, salt, HASH_BYTES, cost);
  return `$scrypt$ln=${cost.ln},r=${cost.r},p=${cost.p}$${plain(salt)}$${plain(hash)}`;
}

/** Whether a password is the one that a text was kept of; never for a text of another form. */
export async function isPassword(password: string, kept: string): Promise<boolean> {
  const [, ln, r, p, salt, hash] = FORM.exec(kept) ?? [];
  if (salt === undefined || hash === undefined) return false;
  const expected = Buffer.from(hash, "base64");
  const cost = { ln: Number(ln), r: Number(r), p: Number(p) };
  const found = await derived(password, Buffer.from(salt, "base64"), expected.length, cost);
  return timingSafeEqual(found, expected);
}

/** Whether a text was kept at another cost than passwords are kept at now. */
export function isOutdated(kept: string, { ln, r, p }: Cost = COST): boolean {
  return !kept.startsWith(`$scrypt$ln=${ln},r=${r},p=${p}$`);
}

/** Keyboards write the same letter in several ways; NFKC makes them one (NIST SP 800-63B, 5.1.1.2; memory). */
function derived(password: string, salt: Buffer, bytes: number, { ln, r, p }: Cost): Promise<Buffer> {
  const N = 2 ** ln;
  const options: ScryptOptions = { N, r, p, maxmem: 2 * 128 * N * r };
  return new Promise((resolve, reject) => {
    scrypt(password.normalize("NFKC"), salt, bytes, options, (error, key) => {
      if (error === null) resolve(key);
      else reject(error);
    });
  });
}

function plain(bytes: Buffer): string {
  return bytes.toString("base64").replace(/=+$/, "");
}
