import type { DocumentCell, DocumentTable } from '../../src/reports/document.ts';
import { formatCount, formatDecimal, NOTHING } from '../../src/wording/format.ts';
import type { Target } from './estimands.ts';
import type { Recovery } from './judge.ts';
import { STUDY_BANDS } from './large-cohort.ts';
import type { ScenarioRecovery } from './study.ts';
import { verdictOf } from './verdict.ts';

const cell = (text: string): DocumentCell => ({ text });
const left = (label: string) => ({ label, align: 'left' as const });
const right = (label: string, unit?: string) => ({
  label,
  align: 'right' as const,
  ...(unit === undefined ? {} : { unit }),
});

/** Shares in percentage points, the rest in its own unit. */
function size(value: number, unit: Recovery['unit']): string {
  return unit === 'share' ? formatDecimal(100 * value, 1) : formatDecimal(value, 2);
}

/** A bias with its Monte-Carlo error. */
export function biasText({ bias, biasError = 0, unit }: Recovery): string {
  return bias === undefined ? NOTHING : `${size(bias, unit)} ± ${size(biasError, unit)}`;
}

function coverageText({ coverage, coverageError = 0 }: Recovery): string {
  return coverage === undefined
    ? NOTHING
    : `${formatDecimal(100 * coverage, 1)} ± ${formatDecimal(100 * coverageError, 1)}`;
}

export function findRecovery(
  { recoveries }: ScenarioRecovery,
  method: string,
  what: string,
  target: Target,
  topic: Recovery['topic'],
): Recovery | undefined {
  return recoveries.find(
    r => r.method === method && r.what === what && r.target === target && r.topic === topic,
  );
}

export const METHODS = {
  kaplanMeier: 'Kaplan–Meier, visit-dated',
  lower: 'Turnbull, lower end',
  upper: 'Turnbull, upper end',
  middle: 'Turnbull, middle',
  weibull: 'Weibull, interval-censored',
} as const;

/** By how many weeks each median is off the true one, scenario by scenario. */
export function medianTable(scenarios: readonly ScenarioRecovery[]): DocumentTable {
  return {
    kind: 'table',
    key: 'medians',
    caption: 'Mean error of the median time to correction, against the day a foot was truly straight',
    columns: [
      left('Scenario'),
      left('Band'),
      right('True median', 'weeks'),
      ...Object.values(METHODS).map(method => right(method, 'weeks')),
    ],
    rows: scenarios.flatMap(scenario =>
      STUDY_BANDS.map(band => {
        const of = (method: string) => findRecovery(scenario, method, band, 'true', 'median');
        const truth = of(METHODS.kaplanMeier)?.truth;
        return [
          cell(scenario.scenario),
          cell(band),
          cell(truth === undefined ? NOTHING : formatDecimal(truth, 1)),
          ...Object.values(METHODS).map(method => {
            const found = of(method);
            return cell(found === undefined ? NOTHING : biasText(found));
          }),
        ];
      }),
    ),
    notes: ['± one Monte-Carlo error. Exports in which the median was not reached are left out of the mean.'],
  };
}

/** Errors and coverage of the share corrected by one week, by each method, against the true share. */
export function shareTable(scenarios: readonly ScenarioRecovery[], week: number): DocumentTable {
  const methods = [METHODS.kaplanMeier, METHODS.lower, METHODS.weibull];
  return {
    kind: 'table',
    key: `shares-week${week}`,
    caption: `Share corrected by week ${week}, other ends censored, against the share truly straight by then`,
    columns: [
      left('Scenario'),
      left('Band'),
      right('Truth', '%'),
      ...methods.flatMap(method => [
        right(`${method}: error`, 'percentage points'),
        right(`${method}: coverage`, '%'),
      ]),
    ],
    rows: scenarios.flatMap(scenario =>
      STUDY_BANDS.map(band => {
        const found = methods.map(method =>
          findRecovery(scenario, method, `${band}, week ${week}`, 'true', 'correction'),
        );
        const truth = found[0]?.truth;
        return [
          cell(scenario.scenario),
          cell(band),
          cell(truth === undefined ? NOTHING : formatDecimal(100 * truth, 1)),
          ...found.flatMap(r =>
            r === undefined ? [cell(NOTHING), cell(NOTHING)] : [cell(biasText(r)), cell(coverageText(r))],
          ),
        ];
      }),
    ),
    notes: ['± one Monte-Carlo error. Coverage is of the 95 % intervals, where there is one.'],
  };
}

/** One line a number, with its verdict. */
export function recoveryTable(key: string, caption: string, recoveries: readonly Recovery[]): DocumentTable {
  return {
    kind: 'table',
    key,
    caption,
    columns: [
      left('Number'),
      left('Method'),
      left('Held against'),
      right('Truth'),
      right('Mean error'),
      right('Root mean square error'),
      right('Coverage', '%'),
      right('Estimates'),
      right('Intervals'),
      left('Verdict'),
    ],
    rows: recoveries.map(r => [
      cell(r.what),
      cell(r.method),
      cell(r.target === 'seen' ? 'what checkups see' : 'what happened'),
      cell(size(r.truth, r.unit)),
      cell(biasText(r)),
      cell(r.rootMeanSquareError === undefined ? NOTHING : size(r.rootMeanSquareError, r.unit)),
      cell(coverageText(r)),
      cell(formatCount(r.estimated)),
      cell(formatCount(r.intervals)),
      cell(verdictOf(r)),
    ]),
    notes: [
      'Shares in percent and percentage points, times in weeks, rates per 100 foot-weeks, ratios as logarithms; ± one Monte-Carlo error.',
    ],
  };
}
