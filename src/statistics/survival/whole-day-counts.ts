import type { FollowUpData } from './follow-up.ts';
import type { RiskSets } from './risk-sets.ts';

/** The risk sets of one group, without the rows they were counted from. */
export interface CountedGroup {
  readonly label: string | number;
  readonly sets: RiskSets;
  readonly n: number;
}

const MOST_GROUPS = 8;
const NO_ROWS = new Int32Array(0);

/**
 * Risk sets of each group in two passes over the rows, for the usual case: times in whole numbers that are few
 * beside the rows, few groups, and neither late entry, weights nor clusters. Groups stand as they are first met.
 *
 * Undefined for any other case, and for anything that is wrong with the columns, which is for others to name.
 */
export function wholeDayCounts(
  data: FollowUpData & { readonly group: ArrayLike<string | number> },
): readonly CountedGroup[] | undefined {
  const { time, event, group } = data;
  const n = time.length;
  if (data.entry || data.weight || data.cluster || event.length !== n || group.length !== n) return undefined;
  const days = daysSpanned(time);
  // The table of counts must be small beside the rows: otherwise walking it costs more than sorting them.
  if (days === undefined || days * MOST_GROUPS > n + 4096) return undefined;
  const width = 2 * days;
  const cells = new Int32Array(width * MOST_GROUPS);
  const labels: (string | number)[] = [];
  for (let i = 0; i < n; i++) {
    const label = group[i] as string | number;
    let g = labels.length - 1;
    while (g >= 0 && labels[g] !== label) g--;
    if (g < 0) {
      if (!isLabel(label) || labels.length === MOST_GROUPS) return undefined;
      g = labels.push(label) - 1;
    }
    const happened = event[i];
    let flag = 1;
    if (happened === 0 || happened === false) flag = 0;
    else if (happened !== 1 && happened !== true) return undefined;
    const cell = g * width + 2 * (time[i] as number) + flag;
    cells[cell] = (cells[cell] as number) + 1;
  }
  return labels.map((label, g) => setsOf(label, cells.subarray(g * width, (g + 1) * width)));
}

/** One more than the latest time, if all are whole numbers of 0 or more. */
function daysSpanned(time: ArrayLike<number>): number | undefined {
  const n = time.length;
  let latest = -1;
  for (let i = 0; i < n; i++) {
    const value = time[i] as number;
    // False for what is no number, too.
    if (!(value >= 0 && Math.floor(value) === value)) return undefined;
    if (value > latest) latest = value;
  }
  return latest < 0 ? undefined : latest + 1;
}

function isLabel(label: unknown): boolean {
  return typeof label === 'string' || (typeof label === 'number' && Number.isFinite(label));
}

/** Risk sets from how many were censored (even places) and had the event (odd places) on each day. */
function setsOf(label: string | number, cells: Int32Array): CountedGroup {
  let distinct = 0;
  for (let c = 0; c < cells.length; c += 2) {
    if ((cells[c] as number) + (cells[c + 1] as number) > 0) distinct += 1;
  }
  const times = new Float64Array(distinct);
  const atRisk = new Float64Array(distinct);
  const events = new Float64Array(distinct);
  const censored = new Float64Array(distinct);
  let here = 0;
  for (let c = cells.length - 2, k = distinct; c >= 0; c -= 2) {
    const leaving = (cells[c] as number) + (cells[c + 1] as number);
    if (leaving === 0) continue;
    k -= 1;
    here += leaving;
    times[k] = c / 2;
    censored[k] = cells[c] as number;
    events[k] = cells[c + 1] as number;
    atRisk[k] = here;
  }
  const sets = { times, place: NO_ROWS, entryPlace: undefined, atRisk, events, censored };
  return { label, sets, n: here };
}
