import { referenceValues } from '../../reference/load.ts';
import { frozen } from '../relative.ts';

type Json = number | string | null | readonly Json[] | { readonly [name: string]: Json };

/** A reference value reached by a path of names; arrays and numbers are taken out at the end. */
export interface Values {
  readonly at: (name: string) => Values;
  readonly list: (name: string) => (number | string | null)[];
  readonly rows: (name: string) => (number | string | null)[][];
  readonly number: (name: string) => number;
  readonly has: (name: string) => boolean;
}

export function values(json: Json): Values {
  const part = (name: string): Json => {
    const found =
      typeof json === 'object' && json !== null && !Array.isArray(json) ? Object(json)[name] : undefined;
    if (found === undefined) throw new Error(`the reference has no ${name}`);
    return found as Json;
  };
  return {
    at: name => values(part(name)),
    list: name => [part(name)].flat() as (number | string | null)[],
    rows: name => (part(name) as Json[]).map(row => [row].flat()) as (number | string | null)[][],
    number: name => Number(part(name)),
    has: name => typeof json === 'object' && json !== null && Object(json)[name] !== null && name in json,
  };
}

/** Columns of a random data set. */
export type RandomData = Readonly<
  Record<
    'entry' | 'time' | 'event' | 'x' | 'w' | 'strata' | 'cluster' | 'weight' | 'share' | 'cause',
    readonly number[]
  >
> & { readonly group: readonly string[] };

export const kinds = ['tied', 'continuous', 'small', 'large', 'wide'] as const;

/** The data, frozen, and R's values (script make-extra.R; survival, cmprsk, sandwich, stats). */
export function randomData(kind: (typeof kinds)[number]): { data: RandomData; results: Values } {
  const file = referenceValues(`extra-${kind}`).values as { data: RandomData; results: Json };
  return { data: frozen(file.data), results: values(file.results) };
}
