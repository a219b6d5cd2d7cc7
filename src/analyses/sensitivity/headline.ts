import type { Cohort } from '../../cohort/cohort.ts';
import { adherenceOfFoot } from '../../cohort/wear-measures.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Measure } from '../finding.ts';
import { DAYS_IN_WEEK, incidenceByDay, incidenceOfEvent } from '../tools/curves.ts';
import { countInfants, type OfOneFoot, reasonNotBanded } from '../tools/people.ts';
import { bandResults, correctionFollowUps } from '../time-to-correction/follow-up.ts';
import { quartileMeasures, shareMeasures } from '../time-to-correction/measures.ts';
import { WEEKS } from '../time-to-correction/scales.ts';
import { trendTests } from '../time-to-correction/trend.ts';
import { statementWeek } from '../time-to-correction/words.ts';
import { type Conclusion, conclusionOfTest, TREND_KEY } from './conclusion.ts';
import type { Touched } from './alternatives.ts';

/** The headline numbers, and what the trend across bands says where correction is among them. */
export interface Headline {
  readonly numbers: readonly Measure[];
  readonly conclusion?: Conclusion;
}

/** The headline numbers of the questions named, by key; the main ones are those of the findings themselves. */
export function headlineOf(cohort: Cohort, plan: Plan, touched: readonly Touched[]): Headline {
  const correction = touched.includes('correction') ? correctionHeadline(cohort, plan) : undefined;
  return {
    ...correction,
    numbers: [
      ...(correction?.numbers ?? []),
      ...(touched.includes('relapse') ? relapseNumbers(cohort, plan) : []),
      ...(touched.includes('adherence') ? adherenceNumbers(cohort, plan) : []),
    ],
  };
}

function correctionHeadline(cohort: Cohort, plan: Plan): Headline {
  const items = correctionFollowUps(cohort.feet.filter(foot => reasonNotBanded(foot) === undefined));
  const bands = bandResults(items, plan);
  const { effect, tests, direction } = trendTests(items, plan);
  const numbers: readonly Measure[] = [
    ...bands.flatMap(band => shareMeasures(band, [statementWeek(plan)], WEEKS)),
    ...bands.flatMap(band => quartileMeasures(band, WEEKS).filter(({ key }) => key.startsWith('median'))),
    {
      key: TREND_KEY,
      label: 'Hazard of correction, each band further',
      kind: 'ratio',
      unit: 'to one band less',
      n: items.length,
      infants: countInfants(items),
      ...(effect.estimate === undefined ? {} : { estimate: effect.estimate }),
      ...(effect.lower === undefined ? {} : { lower: effect.lower }),
      ...(effect.upper === undefined ? {} : { upper: effect.upper }),
      ...(effect.state === undefined ? {} : { state: effect.state }),
    },
  ];
  const pValue = tests.find(({ key }) => key === 'trend')?.pValue;
  return { numbers, conclusion: conclusionOfTest(pValue, direction, plan.level) };
}

function relapseNumbers(cohort: Cohort, plan: Plan): readonly Measure[] {
  const week = plan.relapse.reportWeeks.at(-1) ?? 0;
  const hours = [...plan.phases.hours].sort((a, b) => b - a);
  const steps = hours.map((from, place) => `${from} to ${hours[place + 1] ?? 'none'}`);
  return steps.flatMap((step): readonly Measure[] => {
    const items = cohort.stepDowns
      .filter(stepDown => stepDown.step === step && stepDown.daysAtRisk > 0)
      .map(({ episode, infant, daysAtRisk, cause }) => ({ episode, infant, day: daysAtRisk, cause }));
    if (items.length === 0) return [];
    return [
      {
        key: `risk.week${week}.${step}.all`,
        label: `Relapse within ${week} weeks of the step from ${step}`,
        kind: 'proportion',
        unit: 'of 1',
        ...sizes(items),
        ...incidenceByDay(incidenceOfEvent(items, plan), week * DAYS_IN_WEEK),
      },
    ];
  });
}

function adherenceNumbers(cohort: Cohort, plan: Plan): readonly Measure[] {
  const week = statementWeek(plan);
  const items = cohort.feet.flatMap(({ episode, infant, lapse }) =>
    lapse === undefined ? [] : [{ episode, infant, day: lapse.day, cause: lapse.event ? 1 : 0 }],
  );
  if (items.length === 0) return [];
  let days = 0;
  let covered = 0;
  for (const { wear } of cohort.feet) {
    if (wear === undefined) continue;
    const over = adherenceOfFoot(wear, plan);
    days += over.daysWithData;
    covered += over.daysCovered;
  }
  return [
    {
      key: `lapsed.week${week}`,
      label: `Lapsed by week ${week}`,
      kind: 'proportion',
      unit: 'of 1',
      ...sizes(items),
      ...incidenceByDay(incidenceOfEvent(items, plan), week * DAYS_IN_WEEK),
    },
    {
      key: 'days-covered',
      label: 'Days covered, of days with data',
      kind: 'proportion',
      unit: 'of 1',
      ...sizes(items),
      ...(days === 0 ? { state: 'no data' } : { estimate: covered / days }),
    },
  ];
}

function sizes(items: readonly OfOneFoot[]): Pick<Measure, 'n' | 'infants'> {
  return { n: items.length, infants: countInfants(items) };
}
