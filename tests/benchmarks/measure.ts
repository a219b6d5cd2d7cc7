// One task, on one file, some repetitions, in a process of its own: elapsed and processor time in seconds and peak memory in megabytes.
import { readColumns } from './data.ts';
import { tasks } from './tasks.ts';

const [task = '', path = '', repetitions = '5'] = process.argv.slice(2);
const run = tasks[task];
if (run === undefined) throw new Error(`${task} is no task; known: ${Object.keys(tasks).join(', ')}`);
const columns = await readColumns(path);
const seconds: number[] = [];
const processorSeconds: number[] = [];
let value = 0;
for (let i = 0; i < Number(repetitions); i++) {
  const before = process.cpuUsage();
  const start = performance.now();
  value = run(columns);
  seconds.push((performance.now() - start) / 1000);
  const used = process.cpuUsage(before);
  processorSeconds.push((used.user + used.system) / 1e6);
}
console.log(
  JSON.stringify({ seconds, processorSeconds, value, peakMegabytes: process.resourceUsage().maxRSS / 1024 }),
);
