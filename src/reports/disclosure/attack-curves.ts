import type { Curve, Finding } from '../../analyses/finding.ts';
import type { DisclosurePolicy } from './policy.ts';

/**
 * Small numbers of events between moments at which a reader knows how many there were: the steps of a published curve
 * (height lost times those at risk), the ticks of the table under it, and heights of the curve that a measure or a
 * table quotes.
 */
export function attackCurves(
  truth: readonly Finding[],
  published: readonly Finding[],
  policy: DisclosurePolicy,
): readonly string[] {
  return truth.flatMap(finding => {
    const shown = published.find(({ key }) => key === finding.key);
    if (shown === undefined) return [];
    const quoted = quotedNumbers(shown);
    return finding.curves.flatMap(curve => {
      const drawn = shown.curves.find(({ key }) => key === curve.key);
      return attackCurve(finding.key, curve, drawn, quoted, policy);
    });
  });
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

function attackCurve(
  finding: string,
  curve: Curve,
  drawn: Curve | undefined,
  quoted: ReadonlySet<number>,
  { below, atRisk }: DisclosurePolicy,
): readonly string[] {
  const { steps } = curve;
  if (steps === undefined) return [];
  const name = `${finding}/curve/${curve.key}`;
  const known: { time: number; by: boolean }[] = [];
  for (const [i, time] of curve.time.entries()) {
    const height = curve.estimate[i] ?? 0;
    const told = drawn?.time.includes(time) === true && drawn.estimate[drawn.time.indexOf(time)] === height;
    if (told || (height !== 0 && height !== 1 && quoted.has(height))) known.push({ time, by: true });
  }
  for (const [k, time] of (drawn?.riskTable.time ?? []).entries()) {
    if (typeof drawn?.riskTable.events[k] === 'number') known.push({ time, by: false });
  }
  known.sort((a, b) => a.time - b.time || Number(a.by) - Number(b.by));
  const eventsUpTo = ({ time, by }: { time: number; by: boolean }): number =>
    curve.time.reduce(
      (sum, step, i) => sum + (step < time || (by && step === time) ? (steps.events[i] ?? 0) : 0),
      0,
    );
  let before = 0;
  let leaks = false;
  for (const moment of known) {
    const events = eventsUpTo(moment);
    if (events - before > 0 && events - before < below) leaks = true;
    before = events;
  }
  const tooFew = (drawn?.time ?? []).some(time => {
    const place = curve.time.indexOf(time);
    return place >= 0 && (steps.atRisk[place] ?? 0) < atRisk;
  });
  return [
    ...(leaks ? [`${name}: events between two moments that are told`] : []),
    ...(tooFew ? [`${name}: goes on where too few are at risk`] : []),
  ];
}
