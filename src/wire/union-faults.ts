/**
 * The faults of a value that none of a union's options takes: those of the option the caller meant.
 * An option was meant when all its required fields are there and it knows every field that was sent;
 * where none is such, the caller said none of the ways or several, and is told to choose one.
 */

import { type Fault, nameOf, type Path, pointerOf } from "./fault.js";

/**
 * `options` are the faults each option found, `message` how the union's own sentence goes on after
 * the name of the field.
 */
export function faultsOfUnion(
  options: readonly (readonly Fault[])[],
  input: unknown,
  path: Path,
  message: string,
): readonly Fault[] {
  const pointer = pointerOf(path);
  const detail = `${nameOf(path)} ${message}`;
  if (input === undefined) return [{ pointer, code: "required", detail: `${nameOf(path)} is required.` }];
  if (options.every((faults) => faults.some((fault) => fault.pointer === pointer && ofType(fault)))) {
    const [first] = options.map((faults) => faults[0]);
    const alike = options.every((faults) => faults[0]?.detail === first?.detail);
    return [alike && first ? first : { pointer, code: "wrong-type", detail }];
  }
  // Faults that every option has (a bad `at`) are there whatever was meant.
  const inAll = (fault: Fault) => options.every((faults) => faults.some((other) => same(fault, other)));
  const meant = options
    .filter((faults) => !faults.some((fault) => speaksAgainst(fault, pointer) && !inAll(fault)))
    .sort((a, b) => weight(a, pointer) - weight(b, pointer))[0];
  if (meant !== undefined) return meant;
  const always = (options[0] ?? []).filter(inAll);
  return [...always, { pointer, code: "exactly-one-of", detail }];
}

/** Whether a fault says that the value is not of the option's type at all. */
function ofType(fault: Fault): boolean {
  return fault.code === "wrong-type" || fault.code === "not-one-of";
}

/** A field missing from, or unknown to, the option itself (not to something inside it). */
function speaksAgainst(fault: Fault, union: string): boolean {
  const isOwnField = fault.pointer.lastIndexOf("/") === union.length && fault.pointer.startsWith(union);
  return isOwnField && (fault.code === "required" || fault.code === "unknown-field");
}

/** Options of another type than the value weigh most; else fewer faults are nearer to what was meant. */
function weight(faults: readonly Fault[], union: string): number {
  return faults.some((fault) => fault.pointer === union && ofType(fault))
    ? Number.POSITIVE_INFINITY
    : faults.length;
}

function same(a: Fault, b: Fault): boolean {
  return a.pointer === b.pointer && a.code === b.code;
}
