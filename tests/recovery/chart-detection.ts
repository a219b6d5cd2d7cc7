// How often the control charts of the audit see a change that is there, by their limits and by three normal standard errors.
// usage: npx tsx tests/recovery/chart-detection.ts [--audits 2000] [--seed 20260401]
import { parseArgs } from 'node:util';
import { exactShareScores } from '../../src/statistics/control-charts/exact-share-scores.ts';
import { findSignals, proportionChart, randomStream } from '../../src/statistics/index.ts';

const { values } = parseArgs({
  options: { audits: { type: 'string', default: '2000' }, seed: { type: 'string', default: '20260401' } },
});
const audits = Number(values.audits);
const random = randomStream(Number(values.seed));
const QUARTERS = 12;
/** Infants of a quarter; a third of them have both feet treated, and their feet fare alike. */
const INFANTS = 27;

interface Points {
  readonly events: number[];
  readonly sizes: number[];
  readonly designEffect: number;
}

/** Quarters in which something is met by a share of the infants, another share in the last two. */
function sharesOf(before: number, now: number): Points {
  const events: number[] = [];
  const sizes: number[] = [];
  let squares = 0;
  const clusters: (readonly [number, number])[] = [];
  for (let quarter = 0; quarter < QUARTERS; quarter++) {
    let [met, feet] = [0, 0];
    for (let infant = 0; infant < INFANTS; infant++) {
      const own = random.uniform() < 1 / 3 ? 2 : 1;
      const all = random.uniform() < (quarter < QUARTERS - 2 ? before : now) ? own : 0;
      clusters.push([all, own]);
      met += all;
      feet += own;
    }
    events.push(met);
    sizes.push(feet);
  }
  const total = sum(sizes);
  const share = sum(events) / total;
  for (const [met, feet] of clusters) squares += (met - feet * share) ** 2;
  const independent = total * share * (1 - share);
  return { events, sizes, designEffect: independent > 0 ? squares / independent : 1 };
}

const sum = (list: readonly number[]): number => list.reduce((total, value) => total + value, 0);

function seen({ events, sizes, designEffect }: Points, exact: boolean): boolean {
  const rules = { rules: 'western-electric' } as const;
  const zero = new Float64Array(QUARTERS);
  const signals = exact
    ? findSignals(
        exactShareScores(events, sizes, sum(events) / sum(sizes), designEffect).z,
        zero,
        zero.map(() => 1),
        rules.rules,
      )
    : proportionChart({ events, n: sizes }, rules).signals;
  return signals.some(({ index }) => index >= QUARTERS - 2);
}

console.log('change in the last two quarters | seen by exact limits | by three standard errors');
for (const [label, make] of [
  ['none, 90 %', () => sharesOf(0.9, 0.9)],
  ['90 % to 75 %', () => sharesOf(0.9, 0.75)],
  ['90 % to 60 %', () => sharesOf(0.9, 0.6)],
  ['90 % to 45 %', () => sharesOf(0.9, 0.45)],
] as const) {
  let [exact, normal] = [0, 0];
  for (let audit = 0; audit < audits; audit++) {
    const points = make();
    if (seen(points, true)) exact += 1;
    if (seen(points, false)) normal += 1;
  }
  const percent = (count: number): string => `${((100 * count) / audits).toFixed(1)} %`;
  console.log(`${label} | ${percent(exact)} | ${percent(normal)}`);
}
