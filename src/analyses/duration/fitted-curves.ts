import type { Plan } from '../../plan/plan.ts';
import { acceleratedFailureSurvival } from '../../statistics/regression/accelerated-failure/index.ts';
import type { Plot, PlotSeries } from '../plots.ts';
import { DAYS_IN_WEEK, weeks } from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import type { AcceleratedModel } from './accelerated-models.ts';
import type { BandDuration } from './follow-up.ts';
import { fitOf } from './ratio-lines.ts';

/** For each band the observed curve of not having finished, and that of the crude accelerated-failure model. */
export function fittedCurvePlot(
  model: AcceleratedModel,
  bands: readonly BandDuration[],
  plan: Plan,
): readonly Plot[] {
  const fitted = fitOf(model);
  if (fitted === undefined || !fitted.converged) return [];
  const { items } = model.design;
  const series = bands.flatMap((band): readonly PlotSeries[] => {
    const observed = observedSeries(band, plan);
    const lastWeek = Math.ceil(observed.x.at(-1) ?? 0);
    const grid = Array.from({ length: lastWeek + 1 }, (_, week) => week);
    const covariates = Object.fromEntries(
      model.design.columns.map(({ key }) => [key, key === `band.${band.band}` ? 1 : 0]),
    );
    const curve = acceleratedFailureSurvival(
      fitted,
      covariates,
      grid.map(week => week * DAYS_IN_WEEK),
    );
    return [
      observed,
      {
        key: `fitted.${band.band}`,
        label: `${band.band}, fitted`,
        group: band.band,
        shape: 'line',
        x: grid,
        y: curve.map(point => point.survival),
        lower: curve.map(point => point.lower),
        upper: curve.map(point => point.upper),
      },
    ];
  });
  return [
    {
      key: `fitted.${model.distribution}`,
      title: `Feet that have not finished therapy, observed and by the ${model.distribution} model`,
      x: { label: 'Weeks since first fitting', unit: 'weeks' },
      y: { label: 'Feet that have not finished therapy' },
      series,
      references: [],
      reading: 'Where the fitted line leaves the limits of the steps, the distribution does not fit.',
      n: items.length,
      infants: countInfants(items),
    },
  ];
}

function observedSeries({ band, survival }: BandDuration, plan: Plan): PlotSeries {
  const places = [...survival.time.keys()].filter(
    place =>
      (survival.events[place] ?? 0) > 0 && (survival.atRisk[place] ?? 0) >= plan.disclosure.curveAtRisk,
  );
  const at = <T>(values: readonly T[]): T[] => places.map(place => values[place] as T);
  return {
    key: `observed.${band}`,
    label: `${band}, observed`,
    group: band,
    shape: 'steps',
    x: [0, ...at(survival.time).map(weeks)],
    y: [1, ...at(survival.survival)],
    lower: [1, ...at(survival.lower)],
    upper: [1, ...at(survival.upper)],
  };
}
