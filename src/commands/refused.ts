/** Why a command did not do what it was asked: a sentence for whoever typed it, and no fault of the program. */

export class CommandRefused extends Error {
  override readonly name = "CommandRefused";
}

/** Where a command writes its lines. */
export type Print = (line: string) => void;
