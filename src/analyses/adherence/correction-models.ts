import { BANDS, type Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Effect, FindingTable, Measure, TraceEntry } from '../finding.ts';
import { type CoxFit, coxEffects, type NamedCovariate } from '../tools/cox-effects.ts';
import { withLimits } from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import { traceFeet } from '../tools/trace.ts';
import { type LaggedRows, laggedRows } from './lagged-adherence.ts';

const RULES = ['missing', 'not worn'] as const;
type Rule = (typeof RULES)[number];

/** The hazard of correction by lagged adherence, under one rule for missing days. */
export interface CorrectionModels {
  readonly rule: Rule;
  readonly rows: LaggedRows;
  readonly crude: CoxFit;
  readonly adjusted: CoxFit;
}

/** Under both rules for missing days, the plan's own first. */
export function correctionModels(feet: readonly Foot[], plan: Plan): readonly CorrectionModels[] {
  const own = plan.adherence.missingDays;
  return [own, ...RULES.filter(rule => rule !== own)].map(rule => {
    const rows = laggedRows(feet, rule, plan);
    const fit = (key: string, title: string, covariates: readonly NamedCovariate[]): CoxFit =>
      inFeet(
        coxEffects(
          { key: `cox.correction.${rule}.${key}`, title: `${title}, ${inWords(rule)}` },
          rows,
          covariates,
          plan,
        ),
      );
    // The rows are stretches of days; a reader counts feet.
    const inFeet = (fit: CoxFit): CoxFit => ({
      ...fit,
      n: rows.feet.length,
      effects: fit.effects.map(effect => ({ ...effect, n: rows.feet.length })),
    });
    const lagged = laggedCovariate(rows, plan);
    return {
      rule,
      rows,
      crude: fit('crude', 'Hazard ratio of correction, crude', [lagged]),
      adjusted: fit('adjusted', 'Hazard ratio of correction, adjusted for band', [
        lagged,
        ...bandCovariates(rows),
      ]),
    };
  });
}

function inWords(rule: Rule): string {
  return rule === 'missing' ? 'missing days left out' : 'missing days as not worn';
}

function laggedCovariate(rows: LaggedRows, plan: Plan): NamedCovariate {
  return {
    key: 'adherence',
    label: `Adherence in the ${plan.adherence.laggedDays} days before`,
    reference: '10 percentage points more',
    values: rows.adherence.map(value => 10 * value),
  };
}

function bandCovariates(rows: LaggedRows): readonly NamedCovariate[] {
  return BANDS.slice(1).map((band, place) => ({
    key: band,
    label: `Severity band ${band}`,
    reference: 'mild',
    values: rows.band.map(own => (own === place + 1 ? 1 : 0)),
  }));
}

export function modelEffects(models: readonly CorrectionModels[]): readonly Effect[] {
  return models.flatMap(({ crude, adjusted }) => [...crude.effects, ...adjusted.effects]);
}

export function modelMeasures(models: readonly CorrectionModels[]): readonly Measure[] {
  return models.flatMap(({ rule, rows, adjusted }): Measure[] => [
    {
      key: `model.feet.${rule}`,
      label: `Feet in the model of correction, ${inWords(rule)}`,
      kind: 'count',
      unit: 'feet',
      estimate: rows.feet.length,
      infants: countInfants(rows.feet),
    },
    {
      key: `model.footDays.${rule}`,
      label: `Foot-days with adherence before them, ${inWords(rule)}`,
      kind: 'number',
      unit: 'foot-days',
      estimate: rows.footDays,
    },
    {
      key: `model.corrections.${rule}`,
      label: `Corrections in the model, ${inWords(rule)}`,
      kind: 'count',
      unit: 'feet',
      estimate: rows.corrections,
    },
    {
      key: `model.correctionsWithoutValue.${rule}`,
      label: `Corrections without adherence before them, ${inWords(rule)}`,
      kind: 'count',
      unit: 'feet',
      estimate: rows.correctionsWithoutValue,
    },
    {
      key: `model.hazardRatio.${rule}`,
      label: `Hazard ratio of correction for 10 percentage points more adherence, ${inWords(rule)}`,
      kind: 'ratio',
      unit: 'ratio',
      n: rows.feet.length,
      infants: countInfants(rows.feet),
      events: rows.corrections,
      ...valueOf(adjusted.effects[0]),
    },
  ]);
}

function valueOf(effect: Effect | undefined) {
  return effect?.estimate === undefined
    ? { state: effect?.state ?? 'no data' }
    : withLimits(effect.estimate, effect.lower, effect.upper);
}

export function modelTrace(models: readonly CorrectionModels[]): Readonly<Record<string, TraceEntry>> {
  return Object.fromEntries(
    models.flatMap(({ rule, rows }) => {
      const of = `a severity band, ${inWords(rule)}`;
      return [
        [
          `model.feet.${rule}`,
          traceFeet(`${of}; adherence before some day up to correction or its end`, rows.feet),
        ],
        [
          `model.corrections.${rule}`,
          traceFeet(`${of}; corrected, adherence before that day`, rows.corrected),
        ],
        [
          `model.correctionsWithoutValue.${rule}`,
          traceFeet(`${of}; corrected, no adherence before that day`, rows.correctedWithoutValue),
        ],
      ];
    }),
  );
}

export function modelTable(models: readonly CorrectionModels[]): FindingTable {
  const cell = (effect: Effect | undefined) => {
    const value = valueOf(effect);
    return 'state' in value ? value.state : value;
  };
  return {
    key: 'correction',
    title: 'Correction and adherence in the days before: hazard ratio for 10 percentage points more',
    columns: [
      { key: 'rule', label: 'Days without a record', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'footDays', label: 'Foot-days', kind: 'count' },
      { key: 'corrections', label: 'Corrections', kind: 'count' },
      { key: 'without', label: 'Corrections left out', kind: 'count' },
      { key: 'crude', label: 'Crude', kind: 'ratio' },
      { key: 'adjusted', label: 'Adjusted for band', kind: 'ratio' },
    ],
    rows: models.map(({ rule, rows, crude, adjusted }) => ({
      rule: rule === 'missing' ? 'left out' : 'as not worn',
      feet: rows.feet.length,
      footDays: rows.footDays,
      corrections: rows.corrections,
      without: rows.correctionsWithoutValue,
      crude: cell(crude.effects[0]),
      adjusted: cell(adjusted.effects[0]),
    })),
    notes: ['Corrections left out: no wear was recorded in the days before.'],
  };
}
