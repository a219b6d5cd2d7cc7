import { mean, quantileSorted, standardDeviation } from 'simple-statistics';
import type { Cohort, Foot } from '../cohort/cohort.ts';
import type { Plan } from '../plan/plan.ts';
import { formatCount, formatDecimal } from '../wording/format.ts';
import type { Analysis, Cell, FindingTable, Measure, TraceEntry } from './finding.ts';
import { countInfants, episodesOf } from './tools/people.ts';

const GROUPS = ['mild', 'moderate', 'severe', 'straight', 'not known'] as const;

interface Line {
  readonly label: string;
  readonly value: (feet: readonly Foot[]) => Cell;
}

/** Who was treated: findings and features at first fitting, by severity band. */
export function baseline(cohort: Cohort, _plan: Plan): Analysis {
  const groups = GROUPS.map(group => ({
    group,
    feet: cohort.feet.filter(foot => foot.band === group),
  })).filter(part => part.feet.length > 0);
  const columns = [...groups, { group: 'all', feet: cohort.feet }];
  const trace: Record<string, TraceEntry> = {};
  for (const { group, feet } of columns) {
    trace[`feet.${group}`] = {
      rule: group === 'all' ? 'accepted episode' : `band ${group}`,
      episodes: episodesOf(feet),
    };
  }
  return {
    finding: {
      key: 'baseline',
      version: 1,
      question: 'Who was treated?',
      statement: statement(cohort.feet),
      population: { feet: cohort.feet.length, infants: countInfants(cohort.feet), leftOut: [] },
      measures: columns.map(
        ({ group, feet }): Measure => ({
          key: `feet.${group}`,
          label: 'Feet',
          group,
          kind: 'count',
          unit: 'feet',
          estimate: feet.length,
          infants: countInfants(feet),
        }),
      ),
      curves: [],
      tests: [],
      tables: [baselineTable(columns)],
      methods: [
        {
          text: 'Numbers of feet with their share of those recorded, median (quartiles) for times. No test compares the bands at baseline.',
          cites: ['strobe-2007'],
        },
      ],
      cautions: [],
    },
    trace,
  };
}

function baselineTable(
  columns: readonly { readonly group: string; readonly feet: readonly Foot[] }[],
): FindingTable {
  return {
    key: 'baseline',
    title: 'Feet at first fitting, by severity band',
    columns: [
      { key: 'line', label: 'At first fitting', kind: 'text' },
      ...columns.map(({ group }) => ({
        key: group,
        label: group === 'all' ? 'All' : group,
        kind: 'mixed' as const,
      })),
    ],
    rows: lines().map(line => ({
      line: line.label,
      ...Object.fromEntries(columns.map(({ group, feet }) => [group, line.value(feet)])),
    })),
    notes: [
      'Shares are of the feet for which the item is recorded; what is not recorded stands in its own line.',
    ],
  };
}

function lines(): readonly Line[] {
  return [
    { label: 'Feet', value: feet => feet.length },
    { label: 'Infants', value: feet => countInfants(feet) },
    { label: 'Both feet of the infant treated', value: feet => share(feet, foot => foot.bilateral) },
    { label: 'Left foot', value: feet => share(feet, foot => foot.side === 'left') },
    ...shares('Sex', ['female', 'male'], foot => (foot.sex === 'not recorded' ? undefined : foot.sex)),
    {
      label: 'Age at first fitting, weeks',
      value: feet => quartiles(feet.map(foot => foot.ageAtStartDays / 7)),
    },
    ...shares('Bisector position', [2, 2.5, 3, 3.5, 4, 4.5, 5], foot => foot.baseline.bisectorPosition),
    ...shares(
      'Flexibility',
      ['past straight', 'to straight', 'short of straight'],
      foot => foot.baseline.flexibility,
    ),
    ...shares('Medial crease', ['present', 'absent'], foot =>
      foot.baseline.medialCrease === undefined
        ? undefined
        : foot.baseline.medialCrease
          ? 'present'
          : 'absent',
    ),
  ];
}

function shares(
  label: string,
  values: readonly (string | number)[],
  valueOf: (foot: Foot) => string | number | undefined,
): readonly Line[] {
  return [
    ...values.map(value => ({
      label: `${label}: ${value}`,
      value: (feet: readonly Foot[]) => {
        const recorded = feet.filter(foot => valueOf(foot) !== undefined);
        return share(recorded, foot => valueOf(foot) === value);
      },
    })),
    {
      label: `${label}: not recorded`,
      value: (feet: readonly Foot[]) => feet.filter(foot => valueOf(foot) === undefined).length,
    },
  ];
}

function share(feet: readonly Foot[], holds: (foot: Foot) => boolean): Cell {
  return { count: feet.filter(holds).length, of: feet.length };
}

function quartiles(values: readonly number[]): Cell {
  if (values.length === 0) return undefined;
  const sorted = [...values].sort((a, b) => a - b);
  return {
    median: quantileSorted(sorted, 0.5),
    lowerQuartile: quantileSorted(sorted, 0.25),
    upperQuartile: quantileSorted(sorted, 0.75),
  };
}

function statement(feet: readonly Foot[]): string {
  const infants = countInfants(feet);
  const ages = feet.map(foot => foot.ageAtStartDays / 7);
  if (ages.length === 0) return 'No episode was accepted.';
  const spread = ages.length > 1 ? `, standard deviation ${formatDecimal(standardDeviation(ages), 1)}` : '';
  return `${formatCount(feet.length)} feet of ${formatCount(infants)} infants were fitted, at a mean age of ${formatDecimal(mean(ages), 1)} weeks${spread}.`;
}
