/** Reads a password from whoever calls: typed without being shown, or the first line of standard input. */

import { createInterface } from "node:readline";
import { Writable } from "node:stream";
import { CommandRefused, type Print } from "./refused.js";

/** Throws CommandRefused where nothing comes, or where what is typed again differs. */
export async function passwordFrom(
  input: NodeJS.ReadStream,
  twice: boolean,
  complain: Print,
): Promise<string> {
  if (!input.isTTY) return lineFrom(input);
  complain("Password:");
  const password = await lineFrom(input);
  if (!twice) return password;
  complain("Password again:");
  if ((await lineFrom(input)) !== password) throw new CommandRefused("the two passwords differ");
  return password;
}

/** One line, of which nothing is shown while it is typed. */
function lineFrom(input: NodeJS.ReadStream): Promise<string> {
  const unseen = new Writable({ write: (_chunk, _encoding, done) => done() });
  const lines = createInterface({ input, output: unseen, terminal: input.isTTY === true });
  return new Promise((resolve, reject) => {
    lines.once("line", (line) => {
      resolve(line);
      lines.close();
    });
    lines.once("SIGINT", () => lines.close());
    lines.once("close", () => reject(new CommandRefused("no password was given")));
  });
}
