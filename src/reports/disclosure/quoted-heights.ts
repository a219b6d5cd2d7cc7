import type { Curve, Finding } from '../../analyses/finding.ts';
import { curveAt } from '../../figures/curve-reading.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatInterval } from '../../wording/format.ts';

/** Times at which measures and tables may quote the height of a curve: those that the plan names. */
function planPoints(plan: Plan, unit: Curve['timeUnit']): readonly number[] {
  if (unit !== 'weeks') return [...plan.figures.hundredHourTicks, ...plan.correction.reportHundredHours];
  return [
    ...plan.figures.weekTicks,
    ...plan.correction.reportWeeks,
    ...plan.relapse.reportWeeks,
    ...plan.skin.reportWeeks,
    ...plan.occupancy.returnWeeks,
  ];
}

/** Those times at which a finding does quote the height of a curve: first those of its statement, then by time. */
export function quotedPoints(
  curve: Curve,
  quoted: ReadonlySet<number>,
  statement: string,
  plan: Plan,
): readonly number[] {
  const words = statement.replaceAll(/\s?%/g, '');
  const stated = (point: number): boolean => {
    const { estimate, lower, upper } = curveAt(curve, point);
    return (
      lower !== undefined &&
      upper !== undefined &&
      words.includes(formatInterval({ estimate, lower, upper }, 'proportion'))
    );
  };
  const points = [...new Set(planPoints(plan, curve.timeUnit))]
    .filter(point => quoted.has(curveAt(curve, point).estimate))
    .sort((a, b) => a - b);
  return [...points.filter(stated), ...points.filter(point => !stated(point))];
}

/** Every number that a measure or a table of a finding gives. */
export function quotedNumbers({
  measures,
  tables,
}: Pick<Finding, 'measures' | 'tables'>): ReadonlySet<number> {
  const numbers = new Set<number>();
  for (const { estimate } of measures) if (estimate !== undefined) numbers.add(estimate);
  for (const { rows } of tables) {
    for (const cell of rows.flatMap(row => Object.values(row))) {
      if (typeof cell === 'number') numbers.add(cell);
      else if (typeof cell === 'object' && 'estimate' in cell) numbers.add(cell.estimate);
    }
  }
  return numbers;
}
