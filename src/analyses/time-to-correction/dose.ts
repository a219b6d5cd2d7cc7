import { doseByDay } from '../../cohort/wear-measures.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Analysis, FindingTable, LeftOut, TraceEntry } from '../finding.ts';
import { climbingCurve } from '../tools/curves.ts';
import { population } from '../tools/people.ts';
import { bandResults, type CorrectionFollowUp } from './follow-up.ts';
import { cellOf, quartileMeasures, shareMeasures, shareTable } from './measures.ts';
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
        plan.figures.hundredHourTicks,
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
      quartileTable(
        bands.map(band => ({ band: band.band, feet: band.items.length })),
        quartiles,
      ),
      modelTable('dose.models', 'Which feet were corrected with fewer hours worn', models),
    ],
    leftOut,
    trace: Object.fromEntries(Object.entries(trace).map(([key, entry]) => [`dose.${key}`, entry])),
    feet: used.length,
    days: sum('days'),
    daysWithData: sum('daysWithData'),
  };
}

/** Hours on days with a row, with the days without one at the same mean. */
function hoursUpTo({ foot }: CorrectionFollowUp) {
  if (foot.wear === undefined) return { day: 0, days: 0, daysWithData: 0 };
  const { hours, days, daysWithData } = doseByDay(foot.wear)(foot.correction.day);
  return { day: daysWithData === 0 ? 0 : (hours * days) / daysWithData, days, daysWithData };
}

function quartileTable(
  bands: readonly { readonly band: string; readonly feet: number }[],
  quartiles: DoseAnswer['measures'],
): FindingTable {
  const cell = (key: string, band: string) =>
    cellOf(quartiles.find(measure => measure.key === `dose.${key}.${band}`));
  return {
    key: 'dose.quartiles',
    title: 'Hours worn until a foot was seen corrected, by severity band',
    columns: [
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'lowerQuartile', label: 'A quarter corrected', unit: 'hundred hours', kind: 'time' },
      { key: 'median', label: 'Half corrected', unit: 'hundred hours', kind: 'time' },
      { key: 'upperQuartile', label: 'Three quarters corrected', unit: 'hundred hours', kind: 'time' },
    ],
    rows: bands.map(({ band, feet }) => ({
      band,
      feet,
      lowerQuartile: cell('lower-quartile', band),
      median: cell('median', band),
      upperQuartile: cell('upper-quartile', band),
    })),
    notes: [
      'Hours recorded on adherence days; a day without a row counts with the mean hours of the days of that foot that have one.',
    ],
  };
}
