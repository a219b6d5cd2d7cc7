/** A value of a CSV cell: numbers at full precision, `undefined` as an empty cell. */
export type CsvValue = string | number | undefined;

/**
 * A table as CSV (RFC 4180: commas, CRLF, quotes doubled). A text that a spreadsheet would take for a formula (it begins
 * with =, +, -, @, a tab or a line end, also in their full-width forms) gets an apostrophe before it; numbers stay numbers.
 */
export function csvText(header: readonly string[], rows: readonly (readonly CsvValue[])[]): string {
  return [header, ...rows].map(row => `${row.map(csvCell).join(',')}\r\n`).join('');
}

function csvCell(value: CsvValue): string {
  if (value === undefined) return '';
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new RangeError(`${String(value)} is no number for a table`);
    return String(value);
  }
  const harmless = /^\s*[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/.test(value) ? `'${value}` : value;
  return /[",\r\n;]/.test(harmless) || harmless !== harmless.trim()
    ? `"${harmless.replaceAll('"', '""')}"`
    : harmless;
}
