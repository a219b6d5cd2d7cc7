import { mean, standardDeviation } from 'simple-statistics';
import type { Cohort, Foot } from '../cohort/cohort.ts';
import type { Plan } from '../plan/plan.ts';
import { formatCount, formatDecimal, formatInterval, listInWords } from '../wording/format.ts';
import { BASELINE_ITEMS, type BaselineLine, baselineLines, footWeeks } from './baseline-lines.ts';
import { followUpMeasure } from './duration/description.ts';
import { durationFollowUp } from './duration/follow-up.ts';
import type { Analysis, FindingTable, Measure, TraceEntry } from './finding.ts';
import { weeks, withLimits } from './tools/curves.ts';
import { analysed, countInfants } from './tools/people.ts';
import { traceFeet } from './tools/trace.ts';

const SEVERITY_FINDINGS = ['bisector', 'flexibility', 'crease'] as const;
const GROUPS = ['mild', 'moderate', 'severe', 'straight', 'not known'] as const;

interface Group {
  readonly group: string;
  readonly feet: readonly Foot[];
}

/** Who was treated, and how long were they followed: findings and features at first fitting, by severity band. */
export function baseline(cohort: Cohort, plan: Plan): Analysis {
  const { feet } = cohort;
  const groups = GROUPS.map(group => ({ group, feet: feet.filter(foot => foot.band === group) })).filter(
    part => part.feet.length > 0,
  );
  const columns: readonly Group[] = [...groups, { group: 'all', feet }];
  const followUps = columns.map(column =>
    followUpMeasure(
      column.group,
      column.feet.map(foot => durationFollowUp(foot, plan)),
      plan,
    ),
  );
  const missing = BASELINE_ITEMS.map(({ key, label, valueOf }) => ({
    key: `not-recorded.${key}`,
    label: `${label}: not recorded`,
    group: 'all',
    feet: feet.filter(foot => valueOf(foot) === undefined),
  }));
  return {
    finding: {
      key: 'baseline',
      version: 1,
      question: 'Who was treated, and how long were they followed?',
      statement: statement(feet, missing, followUps.at(-1)),
      population: { feet: feet.length, infants: countInfants(feet), leftOut: [] },
      measures: [
        ...columns.map(({ group, feet: ofGroup }) => count(`feet.${group}`, 'Feet', group, ofGroup)),
        ...missing.map(item => count(item.key, item.label, item.group, item.feet)),
        ...columns.map(
          ({ group, feet: ofGroup }): Measure => ({
            key: `foot-weeks.${group}`,
            label: 'Therapy observed',
            group,
            kind: 'number',
            unit: 'foot-weeks',
            estimate: footWeeks(ofGroup),
            n: ofGroup.length,
            infants: countInfants(ofGroup),
          }),
        ),
        ...followUps,
      ],
      curves: [],
      tests: [],
      tables: [baselineTable(columns, baselineLines(feet, plan))],
      methods: [
        {
          text: 'Numbers of feet with their share of those recorded, median (quartiles) for times and ages. No test compares the bands at baseline.',
          cites: ['strobe-2007'],
        },
        {
          text: 'Follow-up is the median of the reverse Kaplan–Meier curve of therapy, in which leaving observation is the event and any end of therapy censors; it is not reached where fewer feet than that left observation.',
          cites: ['schemper-smith-1996'],
        },
      ],
      cautions: [],
    },
    trace: { analysed: analysed(feet), ...trace(columns, missing) },
  };
}

function count(key: string, label: string, group: string, feet: readonly Foot[]): Measure {
  return {
    key,
    label,
    group,
    kind: 'count',
    unit: 'feet',
    estimate: feet.length,
    infants: countInfants(feet),
  };
}

interface MissingItem extends Group {
  readonly key: string;
  readonly label: string;
}

function trace(
  columns: readonly Group[],
  missing: readonly MissingItem[],
): Readonly<Record<string, TraceEntry>> {
  return Object.fromEntries([
    ...columns.map(({ group, feet }) => [
      `feet.${group}`,
      traceFeet(group === 'all' ? 'accepted episode' : `band ${group}`, feet),
    ]),
    ...missing.map(({ key, label, feet }) => [key, traceFeet(label.toLowerCase(), feet)]),
  ]) as Readonly<Record<string, TraceEntry>>;
}

function baselineTable(columns: readonly Group[], lines: readonly BaselineLine[]): FindingTable {
  return {
    key: 'baseline',
    title: 'Feet at first fitting and their follow-up, by severity band',
    columns: [
      { key: 'line', label: 'At first fitting', kind: 'text' },
      ...columns.map(({ group }) => ({
        key: group,
        label: group === 'all' ? 'All' : group,
        kind: 'mixed' as const,
      })),
    ],
    rows: lines.map(line => ({
      line: line.label,
      ...Object.fromEntries(columns.map(({ group, feet }) => [group, line.value(feet)])),
    })),
    notes: [
      'Shares are of the feet for which the item is recorded; what is not recorded stands in its own line. Times and ages are median (lower to upper quartile).',
      'Therapy observed runs from first fitting to the last day of therapy or the data cut-off. Follow-up is the time for which feet would have been observed had no therapy ended, with its limits.',
    ],
  };
}

function statement(
  feet: readonly Foot[],
  missing: readonly MissingItem[],
  followUp: Measure | undefined,
): string {
  const infants = countInfants(feet);
  const ages = feet.map(foot => weeks(foot.ageAtStartDays));
  if (ages.length === 0) return 'No episode was accepted.';
  const spread = ages.length > 1 ? `, standard deviation ${formatDecimal(standardDeviation(ages), 1)}` : '';
  const followed =
    followUp?.estimate === undefined
      ? ''
      : `, with a median follow-up of ${formatInterval(withLimits(followUp.estimate, followUp.lower, followUp.upper), 'time')} weeks`;
  return [
    `${formatCount(feet.length)} feet of ${formatCount(infants)} infants were fitted, at a mean age of ${formatDecimal(mean(ages), 1)} weeks${spread}.`,
    `They were observed in therapy for ${formatCount(Math.round(footWeeks(feet)))} foot-weeks${followed}.`,
    ...missingSentence(missing, feet.length),
  ].join(' ');
}

/** Which of the three findings that make up severity were not recorded, and in how many feet. */
function missingSentence(missing: readonly MissingItem[], n: number): readonly string[] {
  const findings = missing.filter(({ key }) =>
    SEVERITY_FINDINGS.some(found => key === `not-recorded.${found}`),
  );
  const some = findings.filter(({ feet }) => feet.length > 0);
  if (some.length === 0) return ['Bisector, flexibility and crease were recorded in all of them.'];
  const words = some.map(
    ({ label, feet }) => `${label.replace(': not recorded', '').toLowerCase()} in ${feet.length}`,
  );
  return [`Not recorded at baseline, of ${formatCount(n)} feet: ${listInWords(words)}.`];
}
