// npm run fuzz -- --runs 100000 --seed 1: reads broken exports, and keeps the files of those that break it.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { runFuzz } from './run-fuzz.ts';

const { values } = parseArgs({
  options: { runs: { type: 'string', default: '10000' }, seed: { type: 'string', default: '1' } },
});
const result = await runFuzz(Number(values.runs), Number(values.seed));
for (const { run, target, changes, message, files } of result.failures.slice(0, 10)) {
  const folder = join('out', 'fuzz', `${values.seed}-${run}`);
  mkdirSync(folder, { recursive: true });
  for (const [name, bytes] of Object.entries(files)) writeFileSync(join(folder, name), bytes);
  console.log(`run ${run}, ${target}, ${changes.join('; ')}: ${message}\n  files in ${folder}`);
}
const { runs, outcomes, failures, slowestMilliseconds } = result;
console.log(JSON.stringify({ runs, outcomes, failures: failures.length, slowestMilliseconds }));
process.exitCode = failures.length === 0 ? 0 : 1;
