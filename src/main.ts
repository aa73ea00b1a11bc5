/** The program: what was typed, done in this process's environment. */

import { run } from "./commands/program.js";

process.exitCode = await run(process.argv.slice(2), {
  environment: process.env,
  print: (line) => console.log(line),
  complain: (line) => console.error(line),
});
