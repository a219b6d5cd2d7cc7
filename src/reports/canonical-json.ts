/**
 * JSON with keys in code-point order, two spaces of indent, numbers at full precision and a line end at the end: the
 * same value gives the same bytes, whatever order its keys were set in. Undefined fields are left out; an undefined
 * item of a list is null, which says that there is no value in that place.
 *
 * @throws RangeError for a number that is not finite, naming its place
 */
export function canonicalJson(value: unknown): string {
  return `${JSON.stringify(ordered(value, '$'), null, 2)}\n`;
}

function ordered(value: unknown, place: string): unknown {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new RangeError(`${place} is ${String(value)}; a finite number is needed`);
  }
  if (Array.isArray(value)) return value.map((item, i) => ordered(item ?? null, `${place}[${i}]`));
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value)
    .filter(([, field]) => field !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
  // A null prototype keeps a key such as __proto__ an ordinary key.
  const object: Record<string, unknown> = Object.create(null) as Record<string, unknown>;
  for (const [key, field] of entries) object[key] = ordered(field, `${place}.${key}`);
  return object;
}
