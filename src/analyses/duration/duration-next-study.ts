import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { logRankSampleSize } from '../../statistics/sample-size/index.ts';
import {
  formatCount,
  formatDecimal,
  formatInterval,
  formatLevel,
  formatPercent,
} from '../../wording/format.ts';
import type { Analysis, Cell, FindingTable, Measure } from '../finding.ts';
import { attempt } from '../tools/attempt.ts';
import { withLimits } from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import { type DurationFollowUp, finishedOf } from './follow-up.ts';
import { type DurationFits, durationFits } from './fits.ts';
import { bandEffects } from './model-table.ts';
import { type DurationModel, fitOf } from './ratio-lines.ts';

/** What a study of the worst band against the mildest can count on, as seen in this cohort. */
interface Setting {
  readonly items: readonly DurationFollowUp[];
  /** Share of feet in the worse band. */
  readonly allocation: number;
  /** Share of feet that finished while observed. */
  readonly finished: number;
  /** Clustered over model variance of the crude log hazard ratio. */
  readonly varianceRatio: number;
  readonly feetAnInfant: number;
}

/** How precise is the answer, and how many feet would a study need that settles it? */
export function durationNextStudy(
  cohort: Cohort,
  plan: Plan,
  fits: DurationFits = durationFits(cohort, plan),
): Analysis {
  const { population, cox, time } = fits;
  const setting = settingOf(cox.crude);
  const precision = [cox.crude, cox.adjusted, time.crude, time.adjusted].flatMap(foldWidth);
  const seen = bandEffects(cox.adjusted).at(-1)?.effect.estimate;
  const rows = setting === undefined ? [] : sampleSizes(setting, seen, plan);
  return {
    finding: {
      key: 'duration-next-study',
      version: 1,
      question: 'How precise is the answer on severity and duration, and how many feet would settle it?',
      statement: statement(fits, rows, plan),
      population: {
        feet: population.used.length,
        infants: countInfants(population.used),
        leftOut: population.leftOut,
      },
      measures: [...precision, ...settingMeasures(setting), ...rows.flatMap(({ measures }) => measures)],
      curves: [],
      tests: [],
      tables: [sizeTable(rows, fits, plan)],
      methods: [
        {
          text: `Finished feet needed by Schoenfeld’s formula for a two-sided log-rank test of the worst band against the mildest at the level ${formatDecimal(1 - plan.level, 2)} with ${formatPercent(plan.duration.nextStudy.power)} power, and feet by the share that finished here. Both are multiplied by the ratio of the clustered to the model’s variance of the crude log hazard ratio, and never by less than 1.`,
          cites: ['schoenfeld-1983', 'lin-wei-1989'],
        },
      ],
      cautions: [
        'A ratio seen in a cohort like this one tends to be larger than the true one. A study should be planned on the smallest ratio that would matter, not on the one seen.',
        'The share that finished and the share of severe feet are those of this service and this cut-off.',
      ],
    },
    trace: population.trace,
  };
}

function settingOf(model: DurationModel<CoxFit>): Setting | undefined {
  const last = bandEffects(model).at(-1);
  const fitted = fitOf(model);
  const term = fitted?.terms.find(found => found.name === `band.${last?.band ?? ''}`);
  if (last === undefined || term?.standardError === undefined) return undefined;
  const worst = model.design.items.filter(item => item.foot.band === last.band);
  const items = model.design.items.filter(
    item => item.foot.band === last.band || item.foot.band === last.effect.reference,
  );
  return {
    items,
    allocation: worst.length / items.length,
    finished: finishedOf(items).length / items.length,
    varianceRatio: ((term.robustStandardError ?? term.standardError) / term.standardError) ** 2,
    feetAnInfant: items.length / countInfants(items),
  };
}

interface CoxFit {
  readonly terms: readonly {
    readonly name: string;
    readonly standardError: number | undefined;
    readonly robustStandardError?: number | undefined;
  }[];
}

/** Upper over lower limit of the ratio between the worst band and the mildest: 1 would be no uncertainty. */
function foldWidth(model: DurationModel<object>): readonly Measure[] {
  const last = bandEffects(model).at(-1);
  if (last === undefined) return [];
  const { lower, upper, estimate, state = 'no data' } = last.effect;
  const common: Measure = {
    key: `precision.${model.key}`,
    label: `Upper over lower limit: ${model.panel.toLowerCase()}, ${last.band} to ${last.effect.reference}`,
    group: last.band,
    kind: 'ratio',
    unit: 'ratio',
    n: model.n,
    events: model.events,
  };
  if (estimate === undefined || lower === undefined || upper === undefined) return [{ ...common, state }];
  return [{ ...common, estimate: upper / lower }];
}

function settingMeasures(setting: Setting | undefined): readonly Measure[] {
  if (setting === undefined) return [];
  const rests = { n: setting.items.length, infants: countInfants(setting.items) };
  return [
    {
      key: 'design.worst-share',
      label: 'Share of feet in the worst band, of the worst and the mildest',
      kind: 'proportion',
      unit: 'of 1',
      estimate: setting.allocation,
      ...rests,
    },
    {
      key: 'design.finished-share',
      label: 'Share of these feet that finished while observed',
      kind: 'proportion',
      unit: 'of 1',
      estimate: setting.finished,
      ...rests,
    },
    {
      key: 'design.variance-ratio',
      label: 'Clustered over model variance (design effect)',
      kind: 'ratio',
      unit: 'ratio',
      estimate: setting.varianceRatio,
      ...rests,
    },
    {
      key: 'design.feet-an-infant',
      label: 'Feet for each infant in these bands',
      kind: 'ratio',
      unit: 'ratio',
      estimate: setting.feetAnInfant,
      ...rests,
    },
  ];
}

interface SizeRow {
  readonly hazardRatio: number;
  readonly seen: boolean;
  readonly events: number;
  readonly feet: number;
  readonly infants: number;
  readonly measures: readonly Measure[];
}

function sampleSizes(setting: Setting, seen: number | undefined, plan: Plan): readonly SizeRow[] {
  const { power, hazardRatios } = plan.duration.nextStudy;
  const ratios = [
    ...hazardRatios.map(hazardRatio => ({ hazardRatio, seen: false })),
    ...(seen === undefined ? [] : [{ hazardRatio: seen, seen: true }]),
  ];
  const inflation = Math.max(1, setting.varianceRatio);
  return ratios.flatMap(({ hazardRatio, seen: asSeen }) => {
    const size = attempt(() =>
      logRankSampleSize({
        hazardRatio,
        allocation: setting.allocation,
        eventProbability: setting.finished,
        alpha: 1 - plan.level,
        power,
      }),
    );
    if ('state' in size) return [];
    const events = Math.ceil(size.events * inflation);
    const feet = Math.ceil(size.n * inflation);
    const infants = Math.ceil(feet / setting.feetAnInfant);
    const key = asSeen ? 'seen' : String(hazardRatio);
    const words = asSeen ? 'the hazard ratio seen' : `a hazard ratio of ${hazardRatio}`;
    const number = (what: string, label: string, estimate: number): Measure => ({
      key: `needed.${what}.${key}`,
      label: `${label} needed for ${words}`,
      kind: 'number',
      unit: label.toLowerCase(),
      estimate,
    });
    return [
      {
        hazardRatio,
        seen: asSeen,
        events,
        feet,
        infants,
        measures: [
          number('finished', 'Finished feet', events),
          number('feet', 'Feet', feet),
          number('infants', 'Infants', infants),
        ],
      },
    ];
  });
}

function sizeTable(rows: readonly SizeRow[], { cox }: DurationFits, plan: Plan): FindingTable {
  const last = bandEffects(cox.crude).at(-1);
  const bands = last === undefined ? 'between bands' : `${last.band} to ${last.effect.reference}`;
  return {
    key: 'sample-size',
    title: 'Feet that a study of severity and duration needs',
    columns: [
      { key: 'ratio', label: `Hazard ratio, ${bands}`, kind: 'text' },
      { key: 'events', label: 'Finished feet', kind: 'count' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
    ],
    rows: rows.map(
      (row): Readonly<Record<string, Cell>> => ({
        ratio: `${formatDecimal(row.hazardRatio, 2)}${row.seen ? ' (as seen, adjusted)' : ''}`,
        events: row.events,
        feet: row.feet,
        infants: row.infants,
      }),
    ),
    notes: [
      `Two-sided log-rank test, ${formatLevel(plan.level)} confidence, ${formatPercent(plan.duration.nextStudy.power)} power. Feet are those of the two bands together.`,
    ],
  };
}

function statement({ time }: DurationFits, rows: readonly SizeRow[], plan: Plan): string {
  const last = bandEffects(time.adjusted).at(-1);
  const estimate = last?.effect.estimate;
  if (last === undefined || estimate === undefined || rows.length === 0) {
    return 'The ratio between bands could not be estimated, so neither its precision nor the size of a next study can be given.';
  }
  const { lower, upper, reference } = last.effect;
  const width =
    lower === undefined || upper === undefined
      ? ''
      : `, its upper limit ${formatDecimal(upper / lower, 2)} times the lower`;
  const middle = rows.filter(row => !row.seen);
  const sizes = [middle[0], middle[middle.length - 1]]
    .filter((row, place, all) => row !== undefined && all.indexOf(row) === place)
    .flatMap(row =>
      row === undefined
        ? []
        : [`${formatCount(row.feet)} feet for a hazard ratio of ${formatDecimal(row.hazardRatio, 2)}`],
    );
  return `The time ratio of ${last.band} to ${reference} feet is known as ${formatInterval(withLimits(estimate, lower, upper), 'ratio')}${width}. A study with ${formatPercent(plan.duration.nextStudy.power)} power needs ${sizes.join(' and ')}.`;
}
