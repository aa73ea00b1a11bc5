/** The worked shift of the README, run line by line on the built program: it prints what the page says. */

import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));

interface Step {
  readonly command: string;
  readonly printed: string[];
}

/** The commands of the page's console blocks, each with what the page says it prints. */
function stepsOf(page: string): Step[] {
  const steps: Step[] = [];
  for (const [, block = ""] of page.matchAll(/```console\n(.*?)```/gs)) {
    for (const line of block.trimEnd().split("\n")) {
      if (line.startsWith("$ ")) steps.push({ command: line.slice(2), printed: [] });
      else steps.at(-1)!.printed.push(line);
    }
  }
  return steps;
}

/** A port that is free now. */
function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = createServer().listen(0, "127.0.0.1", () => {
      const address = server.address();
      server.close(() => resolve(typeof address === "object" && address !== null ? address.port : 0));
    });
  });
}

it("prints what the README says", async () => {
  expect(existsSync(join(ROOT, "dist/src/main.js")), "npm run build comes first").toBe(true);
  const steps = stepsOf(readFileSync(join(ROOT, "README.md"), "utf8"));
  expect(steps.length).toBeGreaterThan(15);
  const folder = mkdtempSync(join(tmpdir(), "worked-shift-"));
  const port = await freePort();
  const here = (command: string) =>
    command
      .replace("PORT=8080", `PORT=${port}`)
      .replace("file:worked-shift.db", `file:${folder}/worked-shift.db`)
      .replace(
        "worked-shift.log & sleep 2",
        `${folder}/log & until curl -s 127.0.0.1:$PORT/health/live > ${folder}/live; do sleep 0.1; done`,
      );
  const script = steps.map(({ command }, i) => `echo '@@ ${i}'\n${here(command)}`).join("\n");
  const { stdout, stderr } = spawnSync("bash", ["-c", script], {
    cwd: ROOT,
    encoding: "utf8",
    timeout: 50_000,
  });
  rmSync(folder, { recursive: true });
  const printed = stdout.split(/^@@ \d+\n/m).slice(1);
  expect(stderr).toBe("");
  expect(
    printed.map((text) =>
      text
        .trimEnd()
        .split("\n")
        .filter((line) => line !== ""),
    ),
  ).toEqual(steps.map((step) => step.printed));
});
