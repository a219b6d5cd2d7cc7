// The whole way of a user's script: read a CSV file (with csv-parse, or with `plain` from its bytes), Kaplan-Meier by
// group, log-rank, Cox (Efron, five covariates), results written as CSV.
import { writeFileSync } from 'node:fs';
import { coxModel, kaplanMeierByGroup, logRankTest } from '../../src/statistics/index.ts';
import { readColumns } from './data.ts';
import { readPlainColumns } from './plain-columns.ts';

const [input = '', output = '', reader = 'csv-parse'] = process.argv.slice(2);
const { time, status, group, covariates } = reader === 'plain' ? plain() : await readColumns(input);
const lines = ['group,time,atRisk,events,survival,standardError,lower,upper'];
for (const { group: name, curve } of kaplanMeierByGroup({ time, event: status, group })) {
  for (let k = 0; k < curve.time.length; k++) {
    if (curve.events[k] === 0) continue;
    lines.push(
      [
        name,
        curve.time[k],
        curve.atRisk[k],
        curve.events[k],
        curve.survival[k],
        curve.standardError[k],
        curve.lower[k],
        curve.upper[k],
      ].join(','),
    );
  }
}
writeFileSync(output, `${lines.join('\n')}\n`);
const test = logRankTest({ time, event: status, group });
writeFileSync(`${output}.log-rank.txt`, `${test.statistic}\n`);
const model = coxModel({ time, event: status, covariates }, { ties: 'efron' });
const terms = model.terms.map(t =>
  [t.name, t.coefficient, t.hazardRatio, t.standardError, t.z, t.pValue].join(','),
);
writeFileSync(
  `${output}.cox.csv`,
  `name,coefficient,hazardRatio,standardError,z,pValue\n${terms.join('\n')}\n`,
);
const { user, system } = process.cpuUsage();
console.log(
  JSON.stringify({
    processorSeconds: [(user + system) / 1e6],
    peakMegabytes: process.resourceUsage().maxRSS / 1024,
  }),
);

function plain(): Pick<Awaited<ReturnType<typeof readColumns>>, 'time' | 'group' | 'covariates'> & {
  status: Float64Array;
} {
  const { numbers, labels } = readPlainColumns(input, ['group']);
  const column = (name: string): Float64Array => {
    const found = numbers[name];
    if (found === undefined) throw new Error(`${input} has no column ${name}`);
    return found;
  };
  return {
    time: column('time'),
    status: column('status'),
    group: labels['group'] ?? [],
    covariates: { x1: column('x1'), x2: column('x2'), x3: column('x3'), x4: column('x4'), x5: column('x5') },
  };
}
