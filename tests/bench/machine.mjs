/** The machine a run was made on, and where its databases lay. */

import { readFileSync, realpathSync } from "node:fs";
import { cpus, release, type } from "node:os";

/**
 * @param {string} directory of the databases
 * @returns {string[]} lines for people
 */
export function machine(directory) {
  const cores = cpus();
  return [
    `${cores[0]?.model.trim() ?? "unknown processor"}, ${cores.length} cores, ${type()} ${release()}`,
    `Node ${process.version}, databases on ${fileSystemOf(realpathSync(directory))}`,
  ];
}

/** The kind of file system a directory lies on, as far as the system tells (Linux does). */
function fileSystemOf(directory) {
  let mounts = "";
  try {
    mounts = readFileSync("/proc/mounts", "utf8");
  } catch {
    return "a file system that is not told";
  }
  const holding = mounts
    .split("\n")
    .map((line) => line.split(" "))
    .filter(
      ([, point]) => point !== undefined && `${directory}/`.startsWith(point === "/" ? "/" : `${point}/`),
    )
    .sort(([, a], [, b]) => a.length - b.length)
    .at(-1);
  return holding === undefined ? "a file system that is not told" : `${holding[2]} (${holding[0]})`;
}
