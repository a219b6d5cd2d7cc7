import { BANDS, type Foot, type StepDown } from '../../cohort/cohort.ts';
import { meanAdherenceBefore } from '../../cohort/index.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Effect, FindingTable } from '../finding.ts';
import { type CoxFit, coxEffects, type NamedCovariate } from '../tools/cox-effects.ts';
import { DAYS_IN_WEEK, withLimits } from '../tools/curves.ts';

/** What was known of a foot at a step-down; undefined where it was not recorded. */
interface AtStepDown {
  readonly stepDown: StepDown;
  readonly position: number | undefined;
  readonly adherence: number | undefined;
  readonly banded: boolean;
}

interface Feature {
  readonly key: string;
  readonly needs: (row: AtStepDown) => boolean;
  readonly covariates: (rows: readonly AtStepDown[]) => readonly NamedCovariate[];
}

export interface RelapsePredictors {
  readonly fits: readonly CoxFit[];
  readonly effects: readonly Effect[];
  readonly table: FindingTable;
  readonly cautions: readonly string[];
}

/**
 * What goes with relapse: cause-specific Cox models of the step-downs followed, the step as stratum, clustered by infant.
 * Each feature alone on the step-downs where it is recorded; then weeks, position and band together; then with the
 * adherence before the step-down, on those with wear data.
 */
export function relapsePredictors(
  feet: readonly Foot[],
  stepDowns: readonly StepDown[],
  plan: Plan,
): RelapsePredictors {
  const rows = rowsOf(feet, stepDowns, plan);
  const features = [WEEKS_BEFORE, POSITION, ADHERENCE, BAND];
  const withoutWear = [WEEKS_BEFORE, POSITION, BAND];
  const crude = features.map(feature =>
    fitOf('crude', 'Hazard ratio of relapse, crude', [feature], rows, plan),
  );
  const adjusted = fitOf('adjusted', 'Hazard ratio of relapse, adjusted', withoutWear, rows, plan);
  const withWear = fitOf(
    'adjustedWithWear',
    'Hazard ratio of relapse, adjusted, feet with wear data',
    features,
    rows,
    plan,
  );
  const fits = [...crude, adjusted, withWear];
  return {
    fits,
    effects: fits.flatMap(fit => fit.effects),
    table: predictorTable(crude, adjusted, withWear, rows.length),
    cautions: cautionsOf(adjusted, withWear),
  };
}

function rowsOf(feet: readonly Foot[], stepDowns: readonly StepDown[], plan: Plan): readonly AtStepDown[] {
  const byEpisode = new Map(feet.map(foot => [foot.episode, foot]));
  const { adherenceDays, adherenceMinimumDays } = plan.relapse;
  return stepDowns
    .filter(stepDown => stepDown.daysAtRisk > 0)
    .map(stepDown => {
      const wear = byEpisode.get(stepDown.episode)?.wear;
      return {
        stepDown,
        position: stepDown.referencePosition,
        adherence: wear && meanAdherenceBefore(wear, stepDown.day, adherenceDays, adherenceMinimumDays),
        banded: BANDS.some(band => band === stepDown.band),
      };
    });
}

const WEEKS_BEFORE: Feature = {
  key: 'weeksBefore',
  needs: () => true,
  covariates: rows => [
    {
      key: 'weeksBefore',
      label: 'Weeks in the phase before',
      reference: '1 week longer',
      values: rows.map(row => row.stepDown.daysInPhaseBefore / DAYS_IN_WEEK),
    },
  ],
};

const POSITION: Feature = {
  key: 'position',
  needs: row => row.position !== undefined,
  covariates: rows => [
    {
      key: 'position',
      label: 'Bisector at the step-down',
      reference: 'half a toe further out',
      values: rows.map(row => 2 * (row.position ?? 0)),
    },
  ],
};

const ADHERENCE: Feature = {
  key: 'adherence',
  needs: row => row.adherence !== undefined,
  covariates: rows => [
    {
      key: 'adherence',
      label: 'Adherence before the step-down',
      reference: '10 percentage points more',
      values: rows.map(row => 10 * (row.adherence ?? 0)),
    },
  ],
};

const BAND: Feature = {
  key: 'band',
  needs: row => row.banded,
  covariates: rows =>
    BANDS.slice(1).map(band => ({
      key: band,
      label: `Severity band ${band}`,
      reference: 'mild',
      values: rows.map(row => (row.stepDown.band === band ? 1 : 0)),
    })),
};

function fitOf(
  key: string,
  title: string,
  features: readonly Feature[],
  rows: readonly AtStepDown[],
  plan: Plan,
): CoxFit {
  const complete = rows.filter(row => features.every(feature => feature.needs(row)));
  return coxEffects(
    { key: `cox.${key}`, title },
    {
      time: complete.map(row => row.stepDown.daysAtRisk),
      event: complete.map(row => row.stepDown.cause === 1),
      strata: complete.map(row => row.stepDown.step),
      infant: complete.map(row => row.stepDown.infant),
    },
    features.flatMap(feature => feature.covariates(complete)),
    plan,
  );
}

function predictorTable(
  crude: readonly CoxFit[],
  adjusted: CoxFit,
  withWear: CoxFit,
  followed: number,
): FindingTable {
  const cell = (effect: Effect | undefined) =>
    effect?.estimate === undefined ? effect?.state : withLimits(effect.estimate, effect.lower, effect.upper);
  const same = (fit: CoxFit, effect: Effect): Effect | undefined =>
    fit.effects.find(other => lastPart(other.key) === lastPart(effect.key));
  return {
    key: 'predictors',
    title: 'What goes with relapse after a step-down: hazard ratios',
    columns: [
      { key: 'feature', label: 'At the step-down', kind: 'text' },
      { key: 'reference', label: 'Ratio for', kind: 'text' },
      { key: 'recorded', label: 'Recorded', kind: 'count' },
      { key: 'relapses', label: 'Relapses', kind: 'count' },
      { key: 'crude', label: 'Crude', kind: 'ratio' },
      { key: 'adjusted', label: 'Adjusted', kind: 'ratio' },
      { key: 'withWear', label: 'Adjusted, feet with wear data', kind: 'ratio' },
    ],
    rows: crude.flatMap(fit =>
      fit.effects.map(effect => ({
        feature: effect.label,
        reference: effect.reference === 'mild' ? 'compared with mild' : effect.reference,
        recorded: fit.n,
        relapses: fit.events,
        crude: cell(effect),
        adjusted: cell(same(adjusted, effect)),
        withWear: cell(same(withWear, effect)),
      })),
    ),
    notes: [
      `Of ${followed} step-downs followed, the adjusted model uses ${adjusted.n} (${adjusted.events} relapses), with wear data ${withWear.n} (${withWear.events} relapses).`,
      'Adherence is not in the first adjusted model.',
    ],
  };
}

function lastPart(key: string): string {
  return key.slice(key.lastIndexOf('.') + 1);
}

/** Ten events a term is the usual rule of thumb below which hazard ratios are unsteady. */
const EVENTS_A_TERM = 10;

function cautionsOf(adjusted: CoxFit, withWear: CoxFit): readonly string[] {
  const few = [adjusted, withWear].some(
    fit => fit.events > 0 && fit.events < EVENTS_A_TERM * fit.effects.length,
  );
  return [
    ...(few
      ? ['There are fewer than ten relapses for each hazard ratio of a model: they are unsteady.']
      : []),
    ...([adjusted, withWear].some(fit => fit.penalised)
      ? ['A hazard ratio was without bound; the model was fitted with a penalty, feet as independent.']
      : []),
  ];
}
