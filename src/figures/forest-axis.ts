export interface ForestAxis {
  readonly domain: readonly [number, number];
  readonly ticks: readonly number[];
}

const MOST_TICKS = 7;

interface Limits {
  readonly estimate?: number;
  readonly lower?: number;
  readonly upper?: number;
}

/**
 * An axis that holds every estimate, every known limit and the reference, from tick to tick. On a logarithmic scale the
 * ticks are 1, 2 and 5 times powers of ten.
 *
 * @throws RangeError for a value of 0 or less on a logarithmic scale
 */
export function forestAxis(
  rows: readonly Limits[],
  scale: 'linear' | 'log',
  reference: number | undefined,
  key: string,
): ForestAxis {
  const values = [...rows.flatMap(row => [row.estimate, row.lower, row.upper]), reference].filter(
    value => value !== undefined,
  );
  const least = values.length > 0 ? Math.min(...values) : scale === 'log' ? 1 : 0;
  const most = values.length > 0 ? Math.max(...values) : 1;
  if (scale === 'log' && least <= 0) {
    throw new RangeError(`figure ${key} holds ${least}; a logarithmic scale needs values over 0`);
  }
  const ticks = scale === 'log' ? logarithmicTicks(least, most) : linearTicks(least, most);
  return { domain: [ticks[0] ?? least, ticks[ticks.length - 1] ?? most], ticks };
}

function linearTicks(least: number, most: number): readonly number[] {
  const span = most > least ? most - least : Math.abs(most) || 1;
  const power = 10 ** Math.floor(Math.log10(span / 4));
  const step = [1, 2, 5, 10].map(factor => factor * power).find(size => size >= span / 4) ?? power;
  const first = Math.floor(least / step);
  const last = Math.max(Math.ceil(most / step), first + 1);
  const scale = Math.round(1 / Math.min(step, 1));
  return Array.from({ length: last - first + 1 }, (_, i) => Math.round((first + i) * step * scale) / scale);
}

function logarithmicTicks(least: number, most: number): readonly number[] {
  const all: number[] = [];
  for (let power = Math.floor(Math.log10(least)) - 1; power <= Math.ceil(Math.log10(most)) + 1; power++) {
    for (const factor of [1, 2, 5]) all.push(Number(`${factor}e${power}`));
  }
  const ticks = span(all, least, most);
  // In a narrow plot more labels than this would run into each other.
  const powers = all.filter((_, i) => i % 3 === 0);
  return ticks.length > MOST_TICKS ? span(powers, least, most) : ticks;
}

/** The ticks from the last one at or under the least value to the first at or over the greatest. */
function span(ticks: readonly number[], least: number, most: number): readonly number[] {
  const from = ticks.findLastIndex(tick => tick <= least);
  const to = ticks.findIndex(tick => tick >= most);
  return ticks.slice(from, Math.max(to, from + 1) + 1);
}
