/** What the documents name exists: files, folders and scripts. */

import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const { scripts } = JSON.parse(readFileSync(`${ROOT}package.json`, "utf8")) as {
  scripts: Record<string, string>;
};

/** What the map announces for later stands in no folder yet. */
const TO_COME = new Set(["src/feed", "src/fhir"]);

describe.each(["README.md", "DEVELOPERS.md", "src/infusion/course-table.md"])("%s", (document) => {
  const text = readFileSync(ROOT + document, "utf8");

  it("names files and folders that exist", () => {
    const paths = [...text.matchAll(/`((?:src|tests|migrations|openapi)(?:\/[\w.-]+)*)`/g)].map(
      ([, path]) => path!,
    );
    expect(paths.filter((path) => !existsSync(ROOT + path) && !TO_COME.has(path))).toEqual([]);
    if (document === "DEVELOPERS.md") expect(paths.length).toBeGreaterThan(30);
  });

  it("names scripts that exist", () => {
    const named = [...text.matchAll(/npm (?:run (?:-s )?)?([a-z:]+)/g)].map(([, name]) => name!);
    const ofNpm = new Set(["ci", "run"]);
    expect(named.filter((name) => !(name in scripts) && !ofNpm.has(name))).toEqual([]);
  });
});
