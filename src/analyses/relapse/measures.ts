import { RELAPSE_CAUSES, type StepDown } from '../../cohort/cohort.ts';
import type { Measure, TraceEntry } from '../finding.ts';
import { DAYS_IN_WEEK } from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import { traceItems } from '../tools/trace.ts';
import { keyOf, type StepResult } from './step-results.ts';

export const SIGNS = ['bisector worse', 'longer hours', 'both'] as const;

export function bySign(result: StepResult, sign: StepDown['sign']) {
  return result.relapsed.filter(item => item.stepDown.sign === sign);
}

/** The numbers of one step and band that a reader may quote. */
export function stepMeasures(result: StepResult): readonly Measure[] {
  const group = result.band === 'all' ? result.step : `${result.step}, ${result.band}`;
  const rests = {
    n: result.atRisk.length,
    infants: countInfants(result.atRisk),
    events: result.relapsed.length,
  };
  const counted = counts(result).map(
    ({ key, label, items }): Measure => ({
      key: `${key}.${keyOf(result)}`,
      label,
      group,
      kind: 'count',
      unit: 'step-downs',
      estimate: items.length,
      infants: countInfants(items),
    }),
  );
  return [
    ...counted,
    ...result.risks.map(
      ({ week, risk }): Measure => ({
        key: `risk.week${week}.${keyOf(result)}`,
        label: `Risk of relapse by week ${week}`,
        group,
        kind: 'proportion',
        unit: 'of 1',
        ...rests,
        ...risk,
      }),
    ),
    {
      key: `footWeeks.${keyOf(result)}`,
      label: 'Foot-weeks at risk',
      group,
      kind: 'number',
      unit: 'foot-weeks',
      estimate: result.footDays / DAYS_IN_WEEK,
    },
    {
      key: `rate.${keyOf(result)}`,
      label: 'Relapse rate',
      group,
      kind: 'rate',
      unit: 'per 100 foot-weeks',
      ...rests,
      ...(result.rate ?? { state: 'no data' }),
    },
  ];
}

/** The episodes behind every count of one step and band. */
export function stepTrace(result: StepResult): Readonly<Record<string, TraceEntry>> {
  const of =
    result.band === 'all' ? `step-down ${result.step}` : `step-down ${result.step}, band ${result.band}`;
  return Object.fromEntries(
    counts(result).map(({ key, rule, items }) => [
      `${key}.${keyOf(result)}`,
      traceItems(rule === '' ? of : `${of}; ${rule}`, items),
    ]),
  );
}

interface Count {
  readonly key: string;
  readonly label: string;
  readonly rule: string;
  readonly items: readonly { readonly episode: string; readonly infant: string }[];
}

function counts(result: StepResult): readonly Count[] {
  return [
    { key: 'stepDowns', label: 'Step-downs', rule: '', items: result.stepDowns },
    {
      key: 'followed',
      label: 'Step-downs followed',
      rule: 'followed for at least a day',
      items: result.atRisk,
    },
    {
      key: 'notSeenAfter',
      label: 'Not seen after the end of therapy',
      rule: 'no assessment with a bisector position after the end of therapy',
      items: result.notSeenAfter,
    },
    {
      key: 'noReference',
      label: 'Without a bisector position to compare with',
      rule: 'no bisector position on or before the step-down',
      items: result.noReference,
    },
    { key: 'relapses', label: 'Relapses', rule: 'relapse', items: result.relapsed },
    ...SIGNS.map(sign => ({
      key: `sign ${sign}`,
      label: `Relapses by sign: ${sign}`,
      rule: `relapse, the sign that came first: ${sign}`,
      items: bySign(result, sign),
    })),
    ...[0, 2, 3].map(code => {
      const cause = RELAPSE_CAUSES[code] ?? '';
      return {
        key: `ended as ${cause}`,
        label: `Follow-up ended: ${cause}`,
        rule: `follow-up ended as: ${cause}`,
        items: result.atRisk.filter(item => item.cause === code),
      };
    }),
  ];
}
