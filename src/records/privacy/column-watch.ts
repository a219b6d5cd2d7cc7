import type { Identifying } from './header-words.ts';
import { identifyingValue } from './identifying-value.ts';

/** Values of a column that are looked at. */
const LOOKED_AT = 200;
/** A column gives something away if at least this many of its values do, and at least this share of them. */
const FEWEST = 2;
const SHARE = 0.5;

/**
 * What most of some values give away, or undefined if most give nothing away.
 *
 * @param look what one value gives away
 */
export function identifyingAmong(
  values: Iterable<string>,
  look: (value: string) => Identifying | undefined = identifyingValue,
): Identifying | undefined {
  const found = new Map<Identifying, number>();
  let looked = 0;
  let identifying = 0;
  for (const value of values) {
    if (looked === LOOKED_AT) break;
    looked++;
    const what = look(value);
    if (what === undefined) continue;
    identifying++;
    found.set(what, (found.get(what) ?? 0) + 1);
  }
  if (identifying < FEWEST || identifying < SHARE * looked) return undefined;
  return [...found].sort(([, a], [, b]) => b - a)[0]?.[0];
}

/** Looks at the columns that are kept out, row by row, up to a number of values each. */
export interface ColumnWatch {
  look(cells: readonly string[]): void;
  /** Place of each column that gives something away, and what. */
  found(): readonly (readonly [number, Identifying])[];
}

export function columnWatch(places: readonly number[]): ColumnWatch {
  const seen = places.map(() => new Set<string>());
  let watched = places.length > 0;
  let rows = 0;
  return {
    look(cells) {
      if (!watched) return;
      for (const [k, place] of places.entries()) {
        const value = cells[place]?.trim() ?? '';
        const values = seen[k];
        if (value !== '' && values !== undefined && values.size < LOOKED_AT) values.add(value.slice(0, 201));
      }
      rows++;
      watched = rows < 20 * LOOKED_AT;
    },
    found() {
      return places.flatMap((place, k) => {
        const what = identifyingAmong(seen[k] ?? []);
        return what === undefined ? [] : [[place, what] as const];
      });
    },
  };
}
