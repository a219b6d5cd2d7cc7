/** Paths within a result at which something stands that no caller should meet: NaN, an infinity or null. */
export function unfit(value: unknown, path = 'result'): string[] {
  if (value === null) return [`${path} is null`];
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [`${path} is ${value}`];
  if (typeof value !== 'object') return [];
  if (ArrayBuffer.isView(value)) {
    return Array.from(value as unknown as ArrayLike<number>).flatMap((v, i) => unfit(v, `${path}[${i}]`));
  }
  return Object.entries(value).flatMap(([name, part]) => unfit(part, `${path}.${name}`));
}

/** Numbers in a result in order of their place, for comparison of two results. */
export function numbersOf(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (typeof value !== 'object' || value === null) return [];
  if (ArrayBuffer.isView(value)) return Array.from(value as unknown as ArrayLike<number>);
  return Object.entries(value).flatMap(([name, part]) => (name === 'data' ? [] : numbersOf(part)));
}
