import type { FindingsInput } from '../findings-document.ts';
import { type CountSite, countSites } from './count-sites.ts';

/** A total and the parts that add up to it, as indices of cells. */
export interface SumRule {
  readonly total: number;
  readonly parts: readonly number[];
}

/**
 * The counts of a report as one reader can set them against each other: cells with their true values, and what adds up
 * to what. Places that a reader would take for the same count share a cell. An implied cell stands nowhere and follows
 * from others, such as the feet of a share without the feature.
 */
export interface CountModel {
  readonly names: readonly string[];
  readonly values: readonly number[];
  readonly implied: readonly boolean[];
  readonly weights: readonly number[];
  /** Denominators and totals, which a reader needs to make sense of the rest: hidden only where nothing else helps. */
  readonly sizes: readonly boolean[];
  readonly cellOf: ReadonlyMap<string, number>;
  readonly sums: readonly SumRule[];
  /** Cells of feet and of their infants: an infant has one foot or two. */
  readonly pairs: readonly { readonly feet: number; readonly infants: number }[];
  /** Rules that each cell takes part in: places in `sums`, then in `pairs`. */
  readonly rulesOf: readonly (readonly number[])[];
}

/** A model while its rules are gathered. */
export interface ModelDraft {
  readonly sites: readonly CountSite[];
  cell(path: string): number | undefined;
  value(cell: number): number;
  /** A cell that stands nowhere. */
  imply(name: string, value: number): number;
  /** Notes that parts add up to a total, if in truth they do. */
  sum(total: number | undefined, parts: readonly (number | undefined)[]): void;
  /** `total` is `part` and a rest that stands nowhere. */
  rest(total: number | undefined, part: number | undefined, name: string): void;
  pair(feet: number | undefined, infants: number | undefined): void;
}

/**
 * The model of a report whose counts are all still there.
 *
 * @param relate adds the rules
 */
export function countModel(input: FindingsInput, relate: (draft: ModelDraft) => void): CountModel {
  const sites = countSites(input);
  const names: string[] = [];
  const values: number[] = [];
  const implied: boolean[] = [];
  const weights: number[] = [];
  const sizes: boolean[] = [];
  const cellOf = new Map<string, number>();
  const same = new Map<string, number>();
  const sums: SumRule[] = [];
  const pairs: { feet: number; infants: number }[] = [];
  const push = (name: string, value: number, weight: number, stands: boolean): number => {
    names.push(name);
    values.push(value);
    weights.push(weight);
    sizes.push(false);
    implied.push(!stands);
    return names.length - 1;
  };
  const named = new Set(sites.filter(({ path }) => !path.includes('/table/')).map(sameCount));
  for (const site of sites) {
    if (typeof site.value !== 'number') continue;
    const key = samenessOf(site, named);
    const standing = same.get(key);
    const cell = standing ?? push(site.path, site.value, 0, true);
    weights[cell] = (weights[cell] ?? 0) + site.weight;
    if (site.weight >= OF_A_SIZE) sizes[cell] = true;
    same.set(key, cell);
    cellOf.set(site.path, cell);
  }
  const value = (cell: number): number => values[cell] ?? 0;
  const draft: ModelDraft = {
    sites,
    cell: path => cellOf.get(path),
    value,
    imply: (name, implies) => push(name, implies, 0, false),
    sum: (total, parts) => {
      const known = parts.filter(part => part !== undefined);
      if (total === undefined || known.length < parts.length || known.length === 0) return;
      if (known.includes(total)) return;
      if (known.reduce((sum, part) => sum + value(part), 0) === value(total))
        sums.push({ total, parts: known });
    },
    rest: (total, part, name) => {
      if (total === undefined || part === undefined || total === part || value(part) > value(total)) return;
      sums.push({ total, parts: [part, push(name, value(total) - value(part), 0, false)] });
    },
    pair: (feet, infants) => {
      if (feet === undefined || infants === undefined) return;
      const [f, i] = [value(feet), value(infants)];
      if (i <= f && f <= 2 * i) pairs.push({ feet, infants });
    },
  };
  relate(draft);
  const rulesOf: number[][] = names.map(() => []);
  for (const [rule, { total, parts }] of sums.entries()) {
    for (const cell of [total, ...parts]) rulesOf[cell]?.push(rule);
  }
  for (const [i, { feet, infants }] of pairs.entries()) {
    rulesOf[feet]?.push(sums.length + i);
    rulesOf[infants]?.push(sums.length + i);
  }
  return { names, values, implied, weights, sizes, cellOf, sums, pairs, rulesOf };
}

/**
 * Places with the same number of the same group are taken for the same count, in all findings; where no group is named,
 * in one. Within a table the same number stands for many things: there it is taken for the count of a measure, or for
 * the same denominator. Small numbers stay apart: each of them is hidden for itself.
 */
function samenessOf(site: CountSite, named: ReadonlySet<string>): string {
  const { path, value } = site;
  if (typeof value !== 'number' || value < SURELY_TOLD_APART) return path;
  const key = sameCount(site);
  if (!path.includes('/table/') || named.has(key)) return key;
  return path.endsWith('.of') ? `of ${key}` : path;
}

function sameCount({ value, sort, scope, tag }: CountSite): string {
  return tag === undefined ? `${scope}|${sort}|${value}` : `|${tag}|${sort}|${value}`;
}

const SURELY_TOLD_APART = 3;

/** The weight from which a place gives the size of a group. */
const OF_A_SIZE = 5;
