import type { Plan } from '../../plan/plan.ts';
import { coxSnellResiduals } from '../../statistics/regression/accelerated-failure/index.ts';
import { type CoxModel, coxResiduals, schoenfeldTimes } from '../../statistics/regression/cox/index.ts';
import { linearModel } from '../../statistics/regression/linear-model.ts';
import { splineColumns, splineKnots } from '../../statistics/regression/restricted-cubic-spline.ts';
import { studentTQuantile } from '../../statistics/distributions/index.ts';
import { nelsonAalen } from '../../statistics/survival/index.ts';
import type { Plot, PlotSeries } from '../plots.ts';
import { independentIfAlone, type ModelColumn } from '../tools/adjustment.ts';
import { attempt } from '../tools/attempt.ts';
import { weeks } from '../tools/curves.ts';
import { countInfants, type OfOneFoot } from '../tools/people.ts';
import type { AcceleratedModel } from './accelerated-models.ts';
import { covariatesOf, type DurationModel, fitOf } from './ratio-lines.ts';

/** Places at which a smooth line is drawn, and the most points that a residual curve keeps. */
const LINE_PLACES = 61;
const MOST_STEPS = 200;

/**
 * Scaled Schoenfeld residuals of each feature over time: means of neighbouring finished feet, and a smooth line with
 * limits. The line is a restricted cubic spline with four knots, fitted by least squares, its errors summed by infant.
 */
export function schoenfeldPlots(model: DurationModel<CoxModel>, plan: Plan): readonly Plot[] {
  const fitted = fitOf(model);
  if (fitted === undefined || !fitted.converged) return [];
  const residuals = coxResiduals(fitted, 'scaled-schoenfeld');
  const ends = schoenfeldTimes(fitted);
  const items = ends.flatMap(({ row }) => model.design.items[row] ?? []);
  const time = ends.map(end => weeks(end.time));
  return model.design.columns.map((column, place): Plot => {
    const values = residuals.map(row => row[place] ?? 0);
    const coefficient = fitted.terms[place]?.coefficient;
    return {
      key: `schoenfeld.${model.adjustment}.${column.key}`,
      title: `Log hazard ratio of finishing over time: ${termWords(column)}`,
      x: { label: 'Weeks since first fitting', unit: 'weeks' },
      y: { label: 'Log hazard ratio' },
      series: [binned(time, values, plan), ...smooth(time, values, items, plan)],
      references:
        coefficient === undefined
          ? []
          : [{ kind: 'level', y: coefficient, label: 'ratio of the model, the same at all times' }],
      reading: 'A line that climbs or falls beyond its limits speaks against one ratio for all times.',
      n: items.length,
      infants: countInfants(items),
    };
  });
}

export function termWords({ label, reference }: ModelColumn): string {
  return `${label.charAt(0).toLowerCase()}${label.slice(1)}, against ${reference}`;
}

/** Means of neighbouring values, about root n of each, and never of fewer feet than may be published. */
function binned(x: readonly number[], y: readonly number[], plan: Plan): PlotSeries {
  const size = Math.max(plan.disclosure.suppressBelow, Math.ceil(Math.sqrt(x.length)));
  const groups = Math.max(1, Math.floor(x.length / size));
  const limits = Array.from({ length: groups + 1 }, (_, group) => Math.round((group * x.length) / groups));
  const means = (values: readonly number[]): number[] =>
    limits.slice(1).map((to, group) => {
      const part = values.slice(limits[group], to);
      return part.reduce((sum, value) => sum + value, 0) / part.length;
    });
  return {
    key: 'residuals',
    label: 'Residuals, means of neighbouring feet',
    shape: 'points',
    x: means(x),
    y: means(y),
    feet: limits.slice(1).map((to, group) => to - (limits[group] ?? 0)),
  };
}

function smooth(
  x: readonly number[],
  y: readonly number[],
  items: readonly OfOneFoot[],
  plan: Plan,
): readonly PlotSeries[] {
  const knots = splineKnots(x);
  const columns = splineColumns(x, knots);
  const model = attempt(() =>
    linearModel(
      {
        outcome: y,
        covariates: Object.fromEntries(columns.map((column, j) => [`spline${j}`, column])),
        ...independentIfAlone(items, plan),
      },
      { level: plan.level },
    ),
  );
  const from = x[0] ?? 0;
  const to = x[x.length - 1] ?? from;
  if ('state' in model || model.residualDegreesOfFreedom < 1 || to <= from) return [];
  const grid = Array.from({ length: LINE_PLACES }, (_, i) => from + ((to - from) * i) / (LINE_PLACES - 1));
  const rows = splineColumns(grid, knots);
  const critical = studentTQuantile((1 + plan.level) / 2, model.degreesOfFreedom);
  const fit = grid.map((_, i) => {
    const row = [1, ...rows.map(column => column[i] ?? 0)];
    const estimate = row.reduce((sum, value, j) => sum + value * (model.terms[j]?.coefficient ?? 0), 0);
    let variance = 0;
    for (const [a, line] of model.covariance.entries()) {
      for (const [b, value] of line.entries()) variance += (row[a] ?? 0) * value * (row[b] ?? 0);
    }
    return { estimate, half: critical * Math.sqrt(Math.max(0, variance)) };
  });
  return [
    {
      key: 'smooth',
      label: 'Smoothed',
      shape: 'line',
      x: grid,
      y: fit.map(({ estimate }) => estimate),
      lower: fit.map(({ estimate, half }) => estimate - half),
      upper: fit.map(({ estimate, half }) => estimate + half),
    },
  ];
}

/** Cumulative hazard of the Cox-Snell residuals against the residuals: on the diagonal where the distribution fits. */
export function coxSnellPlot(model: AcceleratedModel, plan: Plan): readonly Plot[] {
  const fitted = fitOf(model);
  if (fitted === undefined || !fitted.converged) return [];
  const { items } = model.design;
  const event = items.map(item => item.cause === 1);
  const time = items.map(item => item.day);
  const residuals = coxSnellResiduals(fitted, { time, event, covariates: covariatesOf(model.design) });
  const hazard = nelsonAalen(
    { time: residuals.map(residual => residual.lower), event, ...independentIfAlone(items, plan) },
    { level: plan.level },
  );
  const shown = [...hazard.time.keys()].filter(
    place => (hazard.events[place] ?? 0) > 0 && (hazard.atRisk[place] ?? 0) >= plan.disclosure.curveAtRisk,
  );
  const step = Math.ceil(shown.length / MOST_STEPS);
  const kept = shown.filter((_, rank) => (shown.length - 1 - rank) % step === 0);
  const at = <T>(values: readonly T[]): T[] => kept.map(place => values[place] as T);
  return [
    {
      key: `cox-snell.${model.distribution}.${model.adjustment}`,
      title: `Residuals of the ${model.distribution} model of total duration, ${model.adjustment}`,
      x: { label: 'Residual: cumulative hazard by the model' },
      y: { label: 'Cumulative hazard of the residuals' },
      series: [
        {
          key: 'residuals',
          label: 'Residuals',
          shape: 'steps',
          x: at(hazard.time),
          y: at(hazard.cumulativeHazard),
          lower: at(hazard.lower),
          upper: at(hazard.upper),
        },
      ],
      references: [{ kind: 'diagonal' }],
      reading: 'The further the curve lies from the diagonal, the worse the distribution fits.',
      n: items.length,
      infants: countInfants(items),
    },
  ];
}
