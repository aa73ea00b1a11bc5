/** The program: what was typed, done in this process's environment. */

import { passwordFrom } from "./commands/password.js";
import { run } from "./commands/program.js";

const complain = (line: string) => console.error(line);

process.exitCode = await run(process.argv.slice(2), {
  environment: process.env,
  print: (line) => console.log(line),
  complain,
  askPassword: (twice) => passwordFrom(process.stdin, twice, complain),
});
