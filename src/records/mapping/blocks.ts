import type { Block } from './mapping.ts';

/** A block with nothing left to repeat. */
export type PlainBlock = Omit<Block, 'repeat'>;

/** Blocks at most that a repetition may stand for. */
export const MOST_BLOCKS = 4096;

/**
 * A block once for every combination of the values that it repeats, the last one changing fastest.
 *
 * @throws RangeError if there are more than `MOST_BLOCKS`
 */
export function repeated({ repeat = {}, ...block }: Block): readonly PlainBlock[] {
  let combinations: readonly Readonly<Record<string, string>>[] = [{}];
  for (const [name, values] of Object.entries(repeat)) {
    if (combinations.length * values.length > MOST_BLOCKS) {
      throw new RangeError(`a block repeats more than ${MOST_BLOCKS} times`);
    }
    combinations = combinations.flatMap(known => values.map(value => ({ ...known, [name]: value })));
  }
  return combinations.map(values => filledIn(block, values));
}

/** A value with `{name}` in all its texts replaced; names that are not known stay. */
function filledIn<Value>(value: Value, values: Readonly<Record<string, string>>): Value {
  if (typeof value === 'string') {
    return value.replace(/\{(\w+)\}/g, (whole, name: string) => values[name] ?? whole) as Value;
  }
  if (Array.isArray(value)) return value.map(inner => filledIn<unknown>(inner, values)) as Value;
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).map(([key, inner]) => [key, filledIn<unknown>(inner, values)]);
  return Object.fromEntries(entries) as Value;
}
