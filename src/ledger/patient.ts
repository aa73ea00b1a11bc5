/**
 * Whom a stay is of, held to its chain without standing in it: the admission has a digest of the patient. Names
 * and identifiers are few enough to be guessed at, so they are hashed with a salt that stands beside them in
 * the directory: without it, or once it is forgotten, the digest tells nothing.
 */

import type { Stay } from "../store/store.js";
import { canonical, digestOf } from "./record.js";

/** SHA-256, in lower-case hex, of `{ identifier, name?, salt }` as canonical JSON; undefined without a salt. */
export function patientDigest({
  patientIdentifier: identifier,
  patientName: name,
  patientSalt: salt,
}: Pick<Stay, "patientIdentifier" | "patientName" | "patientSalt">): string | undefined {
  if (salt === null) return undefined;
  return digestOf(canonical({ identifier, salt, ...(name === null ? {} : { name }) }));
}
