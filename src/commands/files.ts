/** Files that a command makes or reads: who may read them, and what kept them from being made. */

import { CommandRefused } from "./refused.js";

/** Holds who the patients are. */
export const OWNER_ONLY = 0o600;

/** What kept a file from being read or written, for whoever named it; else the error itself. */
export function refusalOf(what: string, error: unknown): unknown {
  const { code } = error as NodeJS.ErrnoException;
  const reasons: Record<string, string> = {
    EEXIST: "it exists, and is not replaced",
    ENOENT: "there is no such file or folder",
    EACCES: "it may not be read or written",
    EISDIR: "it is a folder",
    ENOSPC: "the disk is full",
  };
  const reason = code === undefined ? undefined : reasons[code];
  return reason === undefined ? error : new CommandRefused(`${what}: ${reason}`, { cause: error });
}
