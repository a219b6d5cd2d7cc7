import { fewerThan, type HiddenCount, WITHHELD } from '../../wording/hidden-count.ts';
import { countBounds, type Seen, seenColumns, UNSEEN } from './bounds.ts';
import type { CountModel } from './count-model.ts';
import { countLeaks, tellsSmall } from './leaks.ts';

/**
 * Which cells are hidden, and under what name. Small counts are hidden first (primary suppression). Then, as long as a
 * small count can be worked out more closely than its name tells, it loses its name, which said that it is not 0, and is
 * `withheld` alone; where that is not enough, the cheapest number that helps to work it out is withheld as well
 * (secondary suppression), until none can. So a cell named `withheld` may hold any number, 0 and small ones among them.
 *
 * @param hidden cells hidden beforehand for another reason
 * @param told cells that a reader knows already: hiding them would help nobody
 */
export function chooseHidden(
  model: CountModel,
  below: number,
  hidden: Iterable<number> = [],
  told: ReadonlySet<number> = new Set(),
): ReadonlyMap<number, HiddenCount> {
  const { values, implied } = model;
  const names = new Map<number, HiddenCount>();
  for (const cell of hidden) if (implied[cell] === false) names.set(cell, WITHHELD);
  for (const [cell, value] of values.entries()) {
    if (implied[cell] === false && value > 0 && value < below) names.set(cell, fewerThan(below));
  }
  // What has been told cannot be helped: it is left to the check before publication.
  const lost = new Set<number>();
  for (;;) {
    const found = countLeaks(model, seenBy(model, names, below, told), below);
    const leaks = found.filter(({ cell }) => !lost.has(cell));
    if (leaks.length === 0) return names;
    // One more cell for each leak, unless an earlier leak of this pass has already had one hidden near it.
    const touched = new Set<number>();
    for (const leak of leaks) {
      if (isNamed(names, leak.cell)) names.set(leak.cell, WITHHELD);
      else if (!touched.has(leak.cell)) {
        const around = surroundings(model, names, leak.cell);
        const chosen = helpfulCell(model, names, leak.cell, around, below, told);
        if (chosen === undefined) {
          lost.add(leak.cell);
          continue;
        }
        names.set(chosen, WITHHELD);
        for (const cell of around.hidden) touched.add(cell);
      }
    }
  }
}

/** What a reader sees of each cell. */
export function seenBy(
  { values, implied }: CountModel,
  names: ReadonlyMap<number, HiddenCount>,
  below: number,
  told: ReadonlySet<number> = new Set(),
): readonly Seen[] {
  return values.map((value, cell) => {
    if (implied[cell] === true) return UNSEEN;
    if (told.has(cell)) return { lower: value, upper: value };
    const name = names.get(cell);
    if (name === undefined) return { lower: value, upper: value };
    return name === WITHHELD ? UNSEEN : { lower: 1, upper: below - 1 };
  });
}

/** The hidden cells from which a hidden cell may be worked out, and the shown ones on their edge with their distance. */
interface Surroundings {
  readonly hidden: ReadonlySet<number>;
  readonly shown: ReadonlyMap<number, number>;
}

function surroundings(
  model: CountModel,
  names: ReadonlyMap<number, HiddenCount>,
  start: number,
): Surroundings {
  const hidden = new Set([start]);
  const shown = new Map<number, number>();
  let edge = [start];
  // Far away in a large report little can help; what is missed here is met again in the next pass.
  for (let distance = 1; edge.length > 0 && (shown.size === 0 || hidden.size < MOST_AROUND); distance++) {
    const next: number[] = [];
    for (const cell of edge) {
      for (const beside of cellsBeside(model, cell)) {
        if (hidden.has(beside) || shown.has(beside)) continue;
        if (model.implied[beside] === true || names.has(beside)) {
          hidden.add(beside);
          next.push(beside);
        } else shown.set(beside, distance);
      }
    }
    edge = next;
  }
  return { hidden, shown };
}

function cellsBeside({ rulesOf, sums, pairs }: CountModel, cell: number): readonly number[] {
  return (rulesOf[cell] ?? []).flatMap(rule => {
    const sum = sums[rule];
    if (sum !== undefined) return [sum.total, ...sum.parts];
    const pair = pairs[rule - sums.length];
    return pair === undefined ? [] : [pair.feet, pair.infants];
  });
}

/**
 * The cheapest shown cell that, hidden as well, stops the leak; if none does alone, the cheapest nearby; if none is
 * left, another small one loses its name. Sizes come last.
 */
function helpfulCell(
  model: CountModel,
  names: ReadonlyMap<number, HiddenCount>,
  leak: number,
  { hidden, shown }: Surroundings,
  below: number,
  told: ReadonlySet<number>,
): number | undefined {
  const { weights, values, sizes } = model;
  const cost = ([cell, distance]: readonly [number, number]): number =>
    (weights[cell] ?? 0) * Math.log2((values[cell] ?? 0) + 2) * (1 + distance / 2) +
    (values[cell] === 0 ? COST_OF_NOTHING : 0) +
    (sizes[cell] === true ? COST_OF_A_SIZE : 0);
  const candidates = [...shown]
    .filter(([cell]) => !told.has(cell))
    .sort((a, b) => cost(a) - cost(b) || a[0] - b[0])
    .map(([cell]) => cell);
  const rules = new Set([...hidden].flatMap(cell => model.rulesOf[cell] ?? []));
  const seen = seenColumns(seenBy(model, names, below, told));
  const isTold = (cell: number, least: number, most: number): boolean =>
    cell === leak && tellsSmall(least, most, below);
  const stopped = candidates.slice(0, MOST_TRIED).find(cell => {
    const value = values[cell] ?? 0;
    seen.lower[cell] = UNSEEN.lower;
    seen.upper[cell] = UNSEEN.upper;
    const started = new Set([...rules, ...(model.rulesOf[cell] ?? [])]);
    const { lower, upper } = countBounds(model, seen, started, isTold);
    seen.lower[cell] = value;
    seen.upper[cell] = value;
    return !tellsSmall(lower[leak] ?? 0, upper[leak] ?? 0, below);
  });
  return stopped ?? candidates[0] ?? [...hidden].find(cell => isNamed(names, cell));
}

/** A shown 0 tells that there was none, which is worth knowing. */
const COST_OF_NOTHING = 20;
const COST_OF_A_SIZE = 100_000;
const MOST_TRIED = 12;
const MOST_AROUND = 60;

/** Whether a reader is told that the count is small. */
function isNamed(names: ReadonlyMap<number, HiddenCount>, cell: number): boolean {
  const name = names.get(cell);
  return name !== undefined && name !== WITHHELD;
}
