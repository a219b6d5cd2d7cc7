import { doseByDay } from '../../cohort/wear-measures.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Analysis, LeftOut, TraceEntry } from '../finding.ts';
import { climbingCurve } from '../tools/curves.ts';
import { population } from '../tools/people.ts';
import { traceFeet } from '../tools/trace.ts';
import { continuedTicks } from '../tools/week-ticks.ts';
import { type BandResult, bandResults, type CorrectionFollowUp } from './follow-up.ts';
import { quartileMeasures, quartileTable, shareMeasures, shareTable } from './measures.ts';
import { correctionModels, modelTable } from './models.ts';
import { DOSE } from './scales.ts';
import { trendTests } from './trend.ts';

type Finding = Analysis['finding'];

/** What the dose scale adds to the finding on time to correction. */
export interface DoseAnswer extends Pick<Finding, 'measures' | 'curves' | 'tests' | 'tables'> {
  readonly effects: NonNullable<Finding['effects']>;
  readonly leftOut: readonly LeftOut[];
  readonly trace: Readonly<Record<string, TraceEntry>>;
  readonly feet: number;
  /** Adherence days up to the end of observation, and those of them with a row. */
  readonly days: number;
  readonly daysWithData: number;
}

const NO_WEAR = 'no wear recorded up to correction or the end of observation';

/** Hours worn until correction, with the same ends as on the time scale; feet without wear data are left out. */
export function doseAnswer(items: readonly CorrectionFollowUp[], plan: Plan): DoseAnswer {
  const worn = items.map(item => ({ ...item, ...hoursUpTo(item) }));
  const { used, leftOut, trace } = population(worn, item => (item.daysWithData > 0 ? undefined : NO_WEAR));
  const bands = bandResults(used, plan);
  const quartiles = bands.flatMap(band => quartileMeasures(band, DOSE));
  const trend = trendTests(used, plan, 'dose.');
  const models = correctionModels(used, plan, ['cox'], 'dose.').map(model => ({
    ...model,
    panel: `${model.panel}, by hours worn`,
    effects: model.effects.map(effect => ({ ...effect, panel: `${effect.panel}, by hours worn` })),
  }));
  const mostHours = used.reduce((most, { day }) => Math.max(most, day), 0);
  const ticks = continuedTicks(plan.figures.hundredHourTicks, mostHours / DOSE.size);
  const sum = (field: 'days' | 'daysWithData'): number =>
    used.reduce((total, item) => total + item[field], 0);
  return {
    measures: [
      ...quartiles,
      ...bands.flatMap(band => shareMeasures(band, plan.correction.reportHundredHours, DOSE)),
    ],
    curves: bands.map(band =>
      climbingCurve(
        { key: `dose.${band.band}`, group: band.band, measure: 'Feet seen corrected' },
        band.items,
        band.incidence,
        ticks,
        DOSE,
      ),
    ),
    tests: trend.tests.map(test => ({ ...test, label: `${test.label}, by hours worn` })),
    effects: [
      { ...trend.effect, panel: `${trend.effect.panel}, by hours worn` },
      ...models.flatMap(model => model.effects),
    ],
    tables: [
      shareTable(bands, plan, DOSE),
      quartileTable(bands, quartiles, DOSE, [
        'Hours recorded on adherence days; a day without a row counts with the mean hours of the days of that foot that have one.',
      ]),
      modelTable('dose.models', 'Which feet were corrected with fewer hours worn', models),
    ],
    leftOut,
    trace: {
      ...Object.fromEntries(Object.entries(trace).map(([key, entry]) => [`dose.${key}`, entry])),
      ...Object.fromEntries(bands.flatMap(tracesOf)),
    },
    feet: used.length,
    days: sum('days'),
    daysWithData: sum('daysWithData'),
  };
}

/** The feet of a band with hours worn, and those of them corrected. */
function tracesOf({ band, items }: BandResult): readonly (readonly [string, TraceEntry])[] {
  const rule = `severity band ${band}, wear recorded up to correction or the end of observation`;
  return [
    [`dose.feet.${band}`, traceFeet(rule, items)],
    [
      `dose.corrected.${band}`,
      traceFeet(
        `${rule}; corrected`,
        items.filter(item => item.cause === 1),
      ),
    ],
  ];
}

/** Hours on days with a row, with the days without one at the same mean. */
function hoursUpTo({ foot }: CorrectionFollowUp) {
  if (foot.wear === undefined) return { day: 0, days: 0, daysWithData: 0 };
  const { hours, days, daysWithData } = doseByDay(foot.wear)(foot.correction.day);
  return { day: daysWithData === 0 ? 0 : (hours * days) / daysWithData, days, daysWithData };
}
