/** Reads a table of comma-separated values back. */

/** A reader after the grammar of RFC 4180, section 2. */
export function readBack(table: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  const field = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/y;
  while (field.lastIndex < table.length) {
    const [, quoted, bare, end] = field.exec(table)!;
    row.push(quoted === undefined ? bare! : quoted.replaceAll('""', '"'));
    if (end === "\r\n") {
      rows.push(row);
      row = [];
    }
  }
  return rows;
}
