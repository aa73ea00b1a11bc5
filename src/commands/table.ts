/** Rows of cells as lines of text, each column as wide as its widest cell. */

export function aligned(rows: readonly (readonly string[])[]): string[] {
  const width = (column: number) => Math.max(...rows.map((row) => row[column]?.length ?? 0));
  return rows.map((row) =>
    row
      .map((cell, column) => cell.padEnd(width(column)))
      .join("  ")
      .trimEnd(),
  );
}
