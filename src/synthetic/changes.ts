import { fromIsoDate, quarterOf } from './calendar.ts';
import type { Scenario } from './scenario.ts';
import type { Change } from './scenario-records.ts';

function sizeAt(change: Change, quarter: number): number | undefined {
  if (quarter < change.fromQuarter) return undefined;
  if (quarter > change.toQuarter) return change.lasts ? change.atEnd : undefined;
  const length = change.toQuarter - change.fromQuarter;
  const way = length > 0 ? (quarter - change.fromQuarter) / length : 1;
  return change.atStart + (change.atEnd - change.atStart) * way;
}

/**
 * Size of the changes of one kind at a site on a day: sums (teach-back, delays) from 0, factors (skin events) from 1.
 */
export function changeAt(scenario: Scenario, what: Change['what'], site: string, day: number): number {
  const multiplies = what === 'skin events';
  if (scenario.changes.length === 0) return multiplies ? 1 : 0;
  const quarter = quarterOf(day) - quarterOf(fromIsoDate(scenario.cohort.start));
  let size = multiplies ? 1 : 0;
  for (const change of scenario.changes) {
    if (change.what !== what || (change.site !== undefined && change.site !== site)) continue;
    const at = sizeAt(change, quarter);
    if (at !== undefined) size = multiplies ? size * at : size + at;
  }
  return size;
}
