import type { Curve, Finding } from '../../analyses/finding.ts';
import { curveAt } from '../../figures/curve-reading.ts';
import type { Plan } from '../../plan/plan.ts';
import { quotedNumbers, quotedPoints } from './quoted-heights.ts';
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
  plan: Plan,
): readonly string[] {
  return truth.flatMap(finding => {
    const shown = published.find(({ key }) => key === finding.key);
    if (shown === undefined) return [];
    const quoted = quotedNumbers(shown);
    return finding.curves.flatMap(curve => {
      const drawn = shown.curves.find(({ key }) => key === curve.key);
      return attackCurve(
        finding.key,
        curve,
        drawn,
        quotedPoints(curve, quoted, finding.statement, plan),
        policy,
      );
    });
  });
}

function attackCurve(
  finding: string,
  curve: Curve,
  drawn: Curve | undefined,
  points: readonly number[],
  { below, atRisk }: DisclosurePolicy,
): readonly string[] {
  const { steps } = curve;
  if (steps === undefined) return [];
  const name = `${finding}/curve/${curve.key}`;
  const known: { time: number; by: boolean }[] = [];
  for (const [i, time] of curve.time.entries()) {
    const height = curve.estimate[i] ?? 0;
    const told = drawn?.time.includes(time) === true && drawn.estimate[drawn.time.indexOf(time)] === height;
    if (told) known.push({ time, by: true });
  }
  for (const time of points) {
    const height = curveAt(curve, time).estimate;
    if (height !== 0 && height !== 1) known.push({ time, by: true });
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
