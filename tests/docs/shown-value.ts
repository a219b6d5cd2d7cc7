/** A value as the examples of the reference show it: numbers to four significant digits, fields in the order set. */
export function shownValue(value: unknown): string {
  if (typeof value === 'number') return String(Number(value.toPrecision(4)));
  if (typeof value === 'string') return `'${value}'`;
  if (Array.isArray(value) || ArrayBuffer.isView(value)) {
    return `[${Array.from(value as ArrayLike<unknown>, shownValue).join(', ')}]`;
  }
  if (typeof value !== 'object' || value === null) return String(value);
  const fields = Object.entries(value).map(([key, field]) => `${key}: ${shownValue(field)}`);
  return `{ ${fields.join(', ')} }`;
}
