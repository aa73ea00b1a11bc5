/** Results as a table for people: what, measured, bound, holds. */

/**
 * @typedef {object} Result
 * @property {string} what
 * @property {string} measured
 * @property {string} bound Empty where nothing was promised.
 * @property {boolean | null} holds Null where nothing was promised.
 */

const HEAD = { what: "what", measured: "measured", bound: "bound", holds: "holds" };

/** @param {Result[]} results */
export function table(results) {
  const rows = [HEAD, ...results.map((result) => ({ ...result, holds: word(result.holds) }))];
  const width = (column) => Math.max(...rows.map((row) => row[column].length));
  const columns = Object.keys(HEAD).map((column) => ({ column, wide: width(column) }));
  return rows.map((row) =>
    columns
      .map(({ column, wide }) => row[column].padEnd(wide))
      .join("  ")
      .trimEnd(),
  );
}

function word(holds) {
  if (holds === null) return "";
  return holds ? "yes" : "NO";
}
