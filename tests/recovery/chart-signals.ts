// How often each rule of each control chart of the audit fires in a clinic in which nothing changes: over all quarters
// shown, and in the latest quarter, on which a reader acts. Prints a table; seeded.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { analyseAudit, type QuarterChart } from '../../src/analyses/index.ts';
import { buildCohort } from '../../src/cohort/build-cohort.ts';
import { planSchema } from '../../src/plan/plan.ts';
import { readExport } from '../../src/records/files/read-folder.ts';
import { writeExport } from '../../src/synthetic/files/write-export.ts';
import { studiedScenario } from './scenarios.ts';

interface Tally {
  audits: number;
  ever: number;
  latest: number;
}

const { values } = parseArgs({
  options: {
    audits: { type: 'string', default: '300' },
    seed: { type: 'string', default: '20260401' },
  },
});
const [audits, seed] = [Number(values.audits), Number(values.seed)];
if (!Number.isInteger(audits) || audits < 1 || !Number.isInteger(seed)) {
  throw new RangeError('--audits is a whole number from 1, --seed a whole number');
}
const ANY = 'any rule';
const plan = planSchema.parse({});
const scenario = studiedScenario('no-effect-of-severity');
if (scenario.changes.length > 0) throw new Error('the scenario has a change planted');

async function chartsOf(exportSeed: number): Promise<readonly QuarterChart[]> {
  const parent = mkdtempSync(join(tmpdir(), 'chart-signals-'));
  try {
    const folder = join(parent, 'export');
    writeExport(scenario, folder, { feet: scenario.cohort.feet, seed: exportSeed, replace: false });
    const cohort = buildCohort(await readExport(folder, { plan }), plan);
    return analyseAudit(cohort, plan, 'previous').flatMap(({ finding }) => finding.quarterCharts ?? []);
  } finally {
    rmSync(parent, { recursive: true, force: true });
  }
}

const tallies = new Map<string, Tally>();

function tallyOf(chart: string, rule: string): Tally {
  const key = `${chart} | ${rule}`;
  const held = tallies.get(key) ?? { audits: 0, ever: 0, latest: 0 };
  tallies.set(key, held);
  return held;
}

function add(chart: string, rule: string, places: readonly number[], last: number): void {
  const tally = tallyOf(chart, rule);
  if (places.length > 0) tally.ever += 1;
  if (places.includes(last)) tally.latest += 1;
}

for (let place = 0; place < audits; place++) {
  const charts = await chartsOf(seed + place);
  const all = charts.map(chart => ({ chart, signals: [...chart.signals, ...chart.shifts] }));
  for (const { chart, signals } of all) {
    const last = chart.quarters.length - 1;
    add(
      chart.key,
      ANY,
      signals.map(signal => signal.place),
      last,
    );
    tallyOf(chart.key, ANY).audits += 1;
    for (const rule of new Set(signals.map(signal => signal.rule))) {
      const places = signals.filter(signal => signal.rule === rule).map(signal => signal.place);
      add(chart.key, rule, places, last);
    }
  }
  // The latest quarter is the last place of every chart, since all charts share their quarters.
  const last = (charts[0]?.quarters.length ?? 1) - 1;
  const places = all.flatMap(({ signals }) => signals.map(signal => signal.place));
  add('any chart', ANY, places, last);
  tallyOf('any chart', ANY).audits += 1;
}

const percent = (count: number, of: number): string => `${((100 * count) / of).toFixed(1)} %`;
console.log('chart | rule | audits with the chart | fired in any quarter | fired in the latest quarter');
for (const [key, { ever, latest }] of [...tallies].sort(([a], [b]) => (a < b ? -1 : 1))) {
  const chart = key.slice(0, key.indexOf(' | '));
  const of = tallyOf(chart, ANY).audits;
  console.log(`${key} | ${of} | ${percent(ever, of)} | ${percent(latest, of)}`);
}
