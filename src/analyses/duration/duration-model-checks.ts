import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatDecimal, formatPValueSentence } from '../../wording/format.ts';
import type { Analysis, TestResult } from '../finding.ts';
import { countInfants } from '../tools/people.ts';
import { type AcceleratedModel, akaike, bestFit, distributionTable } from './accelerated-models.ts';
import { type DurationFits, durationFits } from './fits.ts';
import { fittedCurvePlot } from './fitted-curves.ts';
import { proportionalHazards } from './proportional-hazards.ts';
import { fitOf } from './ratio-lines.ts';
import { coxSnellPlot, schoenfeldPlots } from './residual-plots.ts';
import { ratioRange } from './ratio-range.ts';

/** Do the models of total duration fit? Tests and residuals of the hazard models, fit of the distributions. */
export function durationModelChecks(
  cohort: Cohort,
  plan: Plan,
  fits: DurationFits = durationFits(cohort, plan),
): Analysis {
  const { population, bands, designs, cox, time, distributions } = fits;
  const tests = [...proportionalHazards(cox.crude), ...proportionalHazards(cox.adjusted)];
  const best = bestFit(distributions);
  const { items } = designs.crude;
  return {
    finding: {
      key: 'duration-model-checks',
      version: 1,
      question: 'Do the models of total duration fit the data?',
      statement: [hazardSentence(tests), distributionSentence(best, fits)].join(' '),
      population: { feet: items.length, infants: countInfants(items), leftOut: population.leftOut },
      measures: [],
      curves: [],
      tests,
      effects: distributions.filter(model => !model.planned).flatMap(model => model.effects),
      plots: [
        ...schoenfeldPlots(cox.adjusted, plan),
        ...coxSnellPlot(time.adjusted, plan),
        ...(best === undefined || best.planned ? [] : coxSnellPlot(best, plan)),
        ...fittedCurvePlot(time.crude, bands, plan),
        ...crudeOf(best, fits).flatMap(model => fittedCurvePlot(model, bands, plan)),
      ],
      tables: [testTable(tests), distributionTable(distributions)],
      methods: [
        {
          text: 'That one hazard ratio holds at all times is tested by widening the model with each feature times 1 less the Kaplan–Meier curve. Scaled Schoenfeld residuals show how a ratio changes; their smooth line is a restricted cubic spline with four knots.',
          cites: ['grambsch-therneau-1994', 'durrleman-simon-1989'],
        },
        {
          text: 'The distributions are compared by log likelihood and Akaike’s criterion, by the Nelson–Aalen estimate of the Cox–Snell residuals, and by their curves beside the observed ones.',
          cites: ['akaike-1974', 'cox-snell-1968'],
        },
      ],
      cautions: [
        'The tests of proportional hazards take feet as independent. With many feet they find departures too small to matter, and with few they miss large ones: read them with the plots.',
      ],
    },
    trace: population.trace,
  };
}

/** The crude model of the best distribution, if it is another than the planned one. */
function crudeOf(
  best: AcceleratedModel | undefined,
  { time, distributions }: DurationFits,
): readonly AcceleratedModel[] {
  const found = distributions.find(
    model => model.adjustment === 'crude' && model.distribution === best?.distribution && !model.planned,
  );
  // The planned one is drawn already.
  return found === undefined || found.distribution === time.crude.distribution ? [] : [found];
}

function testTable(tests: readonly TestResult[]) {
  return {
    key: 'proportional-hazards',
    title: 'Tests of proportional hazards',
    columns: [
      { key: 'model', label: 'Model', kind: 'text' as const },
      { key: 'feature', label: 'Feature', kind: 'text' as const },
      { key: 'statistic', label: 'Chi-square', kind: 'number' as const },
      { key: 'degreesOfFreedom', label: 'Degrees of freedom', kind: 'number' as const },
      { key: 'pValue', label: 'P', kind: 'p-value' as const },
    ],
    rows: tests.map(test => ({
      model: test.key.startsWith('proportional-hazards.crude') ? 'crude' : 'adjusted',
      feature: test.label,
      statistic: test.statistic ?? test.state,
      degreesOfFreedom: test.degreesOfFreedom,
      pValue: test.pValue,
    })),
    notes: ['A small P speaks against one hazard ratio for all times.'],
  };
}

function hazardSentence(tests: readonly TestResult[]): string {
  const find = (key: string): TestResult | undefined =>
    tests.find(test => test.key === `proportional-hazards.adjusted.${key}`);
  const all = find('all');
  if (all?.pValue === undefined) return 'Proportional hazards could not be tested.';
  const band = find('band') ?? find('band.severe') ?? find('band.moderate');
  const bands =
    band?.pValue === undefined ? '' : `, for the severity bands ${formatPValueSentence(band.pValue)}`;
  return `Test of proportional hazards in the adjusted model: all features ${formatPValueSentence(all.pValue)}${bands}.`;
}

function distributionSentence(best: AcceleratedModel | undefined, fits: DurationFits): string {
  const planned = fitOf(fits.time.adjusted);
  const fitted = best === undefined ? undefined : fitOf(best);
  if (best === undefined || fitted === undefined || planned?.converged !== true) {
    return 'No distribution could be fitted to the durations.';
  }
  const range = ratioRange(fits);
  const ratios = range === undefined ? '' : ` ${range}`;
  if (best.planned)
    return `Of the distributions tried, the planned one (${best.distribution}) fits best by Akaike’s criterion.${ratios}`;
  return `By Akaike’s criterion the ${best.distribution} distribution fits better than the planned one (${fits.time.adjusted.distribution}), by ${formatDecimal(akaike(planned) - akaike(fitted), 1)}.${ratios}`;
}
