// Speed of the statistics against R's survival and cmprsk, on the same files and machine, in turns. Ratios are of
// processor time, the least over all repetitions: it hardly feels what else the machine does, as elapsed time would.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { cpus, totalmem } from 'node:os';
import { benchmarkFile, folder } from './data.ts';

interface Measured {
  readonly seconds: readonly number[];
  readonly processorSeconds: readonly number[];
  readonly value?: number;
  readonly peakMegabytes: number;
}

interface Plan {
  readonly task: string;
  readonly rows: number;
  readonly repetitions: number;
  /** How many times as fast as R it should be; absent where none is set for this size. */
  readonly goal?: number;
  /** R takes minutes here, so ours runs alone. */
  readonly alone?: boolean;
}

const plans: readonly Plan[] = [
  ...[10_000, 100_000, 1_000_000].flatMap(rows => [
    { task: 'kaplan-meier', rows, repetitions: 3, ...(rows === 1_000_000 ? { goal: 20 } : {}) },
    { task: 'log-rank', rows, repetitions: 3, ...(rows === 1_000_000 ? { goal: 20 } : {}) },
    { task: 'cox', rows, repetitions: 3, ...(rows === 1_000_000 ? { goal: 5 } : {}) },
    {
      task: 'aalen-johansen',
      rows,
      repetitions: 3,
      ...(rows === 100_000 ? { goal: 20 } : {}),
      ...(rows === 1_000_000 ? { alone: true } : {}),
    },
    { task: 'gray', rows, repetitions: 3, ...(rows === 100_000 ? { goal: 3 } : {}) },
  ]),
  { task: 'bootstrap', rows: 500, repetitions: 3, goal: 20 },
  { task: 'pipeline', rows: 1_000_000, repetitions: 1, goal: 2 },
  { task: 'pipeline-plain', rows: 1_000_000, repetitions: 1, goal: 2 },
];

const rounds = 2;
const only = process.argv.slice(2);
const hasR =
  spawnSync('Rscript', ['-e', 'library(survival); library(cmprsk); library(data.table)']).status === 0;
if (!hasR) console.log('R with survival, cmprsk and data.table is not here: ours alone.');

const results = [];
for (const plan of plans.filter(p => only.length === 0 || only.includes(p.task))) {
  const path = await benchmarkFile(plan.rows);
  const ours: Measured[] = [];
  const theirs: Measured[] = [];
  for (let round = 0; round < rounds; round++) {
    if (hasR && plan.alone !== true) theirs.push(measure('R', plan, path));
    ours.push(measure('ours', plan, path));
  }
  const result = {
    task: plan.task,
    rows: plan.rows,
    ours: summary(ours),
    r: theirs.length > 0 ? summary(theirs) : undefined,
    goal: plan.goal,
    agree: agreement(ours, theirs),
  };
  results.push(result);
  const ratio = result.r && result.r.processor / result.ours.processor;
  console.log(
    [
      plan.task.padEnd(15),
      String(plan.rows).padStart(8),
      `ours ${described(result.ours)}`,
      result.r ? `R ${described(result.r)}` : '',
      ratio === undefined ? '' : `ratio ${ratio.toFixed(1)}`,
      plan.goal === undefined
        ? ''
        : `goal ${plan.goal}${ratio !== undefined && ratio < plan.goal ? ' MISSED' : ''}`,
      result.agree === false ? 'VALUES DIFFER' : '',
    ].join('  '),
  );
}

mkdirSync(folder, { recursive: true });
writeFileSync(
  `${folder}/results.json`,
  `${JSON.stringify(
    {
      machine: {
        cores: cpus().length,
        processor: cpus()[0]?.model,
        memoryGigabytes: Math.round(totalmem() / 2 ** 30),
        node: process.version,
        r: hasR ? versionsOfR() : undefined,
      },
      rounds,
      results,
    },
    undefined,
    2,
  )}\n`,
);

function measure(side: 'R' | 'ours', plan: Plan, path: string): Measured {
  const whole = plan.task.startsWith('pipeline');
  const extension = side === 'R' ? 'R' : 'ts';
  const script = `tests/benchmarks/${whole ? 'pipeline' : 'measure'}.${extension}`;
  const command = side === 'R' ? 'Rscript' : process.execPath;
  const first = side === 'R' ? ['--vanilla', script] : ['--import', 'tsx', script];
  const last = whole
    ? [path, `${folder}/pipeline-${side}.csv`, ...(plan.task === 'pipeline-plain' ? ['plain'] : [])]
    : [plan.task, path, String(side === 'R' ? plan.repetitions : 2 * plan.repetitions)];
  const start = performance.now();
  const text = execFileSync(command, [...first, ...last], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const elapsed = (performance.now() - start) / 1000;
  const answer = JSON.parse(text) as Measured;
  return whole ? { ...answer, seconds: [elapsed] } : answer;
}

interface Summary {
  readonly processor: number;
  readonly minimum: number;
  readonly median: number;
  readonly repetitions: number;
  readonly peakMegabytes: number;
}

function described({ processor, minimum, median, peakMegabytes }: Summary): string {
  return `${processor.toFixed(4)} s processor, ${minimum.toFixed(4)} s elapsed (median ${median.toFixed(4)}), ${peakMegabytes} MB`;
}

function summary(parts: readonly Measured[]): Summary {
  const seconds = parts.flatMap(part => part.seconds).sort((a, b) => a - b);
  const middle = seconds.length / 2;
  const median = ((seconds[Math.ceil(middle) - 1] ?? 0) + (seconds[Math.floor(middle)] ?? 0)) / 2;
  return {
    processor: Math.min(...parts.flatMap(part => part.processorSeconds)),
    minimum: seconds[0] ?? 0,
    median,
    repetitions: seconds.length,
    peakMegabytes: Math.round(Math.max(...parts.map(part => part.peakMegabytes))),
  };
}

/** Whether both sides computed the same number, to 9 digits; undefined where only one side ran. */
function agreement(ours: readonly Measured[], theirs: readonly Measured[]): boolean | undefined {
  const a = ours[0]?.value;
  const b = theirs[0]?.value;
  if (a === undefined || b === undefined) return undefined;
  return Math.abs(a - b) <= 1e-9 * Math.abs(b);
}

function versionsOfR(): string {
  return execFileSync(
    'Rscript',
    [
      '-e',
      'cat(R.version.string, paste0("survival ", packageVersion("survival")), paste0("cmprsk ", packageVersion("cmprsk")), basename(extSoftVersion()[["BLAS"]]), sep = "; ")',
    ],
    { encoding: 'utf8' },
  );
}
