/** Writes the API description where it is committed: `node dist/src/describe/write.js <file>`. */

import { writeFileSync } from "node:fs";
import { openApiText } from "../rest/openapi.js";
import { workedAnswers } from "./answers.js";

const [, , file] = process.argv;
if (file === undefined) throw new Error("name the file to write");
writeFileSync(file, openApiText(await workedAnswers()));
