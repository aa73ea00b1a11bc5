/** Writes the API description where it is committed: `node dist/src/rest/write-openapi.js <file>`. */

import { writeFileSync } from "node:fs";
import { openApiText } from "./openapi.js";

const [, , file] = process.argv;
if (file === undefined) throw new Error("name the file to write");
writeFileSync(file, openApiText());
