import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Analysis } from '../finding.ts';
import { countInfants } from '../tools/people.ts';
import {
  courseTable,
  describingMeasures,
  describingTrace,
  durationCurves,
  finishedTable,
  followUpMeasure,
} from './description.ts';
import { type DurationFits, durationFits } from './fits.ts';
import { bandRatioMeasures, modelCautions, modelTable, usedFeet } from './model-table.ts';
import { testsAmongFinished, trendTests } from './trend.ts';
import { CAUTIONS, distributionCaution, methods, statement } from './words.ts';

/**
 * Does baseline severity go with the total duration of therapy? Curves with competing ends, tests for trend, and crude
 * and adjusted hazard and time ratios between bands.
 */
export function severityAndDuration(
  cohort: Cohort,
  plan: Plan,
  fits: DurationFits = durationFits(cohort, plan),
): Analysis {
  const { used, leftOut, trace } = fits.population;
  const { bands, cox, fineGray, time } = fits;
  const describing = bands.flatMap(band => describingMeasures(band, plan));
  const tests = [...trendTests(used, plan), ...testsAmongFinished(used)];
  const modelled = usedFeet(used, cox.crude, cox.adjusted);
  const medians = describing.filter(measure => measure.key.startsWith('median.'));
  const models = [cox.crude, cox.adjusted, fineGray.crude, fineGray.adjusted, time.crude, time.adjusted];
  return {
    finding: {
      key: 'severity-and-duration',
      version: 1,
      question: 'Does baseline severity go with the total duration of therapy?',
      statement: statement(fits, medians, tests),
      population: { feet: used.length, infants: countInfants(used), leftOut },
      measures: [
        ...describing,
        followUpMeasure('all', used, plan),
        ...modelled.measures,
        ...[cox.crude, cox.adjusted].flatMap(model =>
          bandRatioMeasures('hazard-ratio', 'Hazard ratio of finishing', model),
        ),
        ...[fineGray.crude, fineGray.adjusted].flatMap(model =>
          bandRatioMeasures('subdistribution-hazard-ratio', 'Subdistribution hazard ratio', model),
        ),
        ...[time.crude, time.adjusted].flatMap(model =>
          bandRatioMeasures('time-ratio', 'Ratio of total duration', model),
        ),
      ],
      curves: bands.flatMap(band => durationCurves(band, plan)),
      tests,
      effects: models.flatMap(model => model.effects),
      tables: [
        courseTable(bands, describing),
        finishedTable(bands, plan),
        modelTable(
          'hazard-ratios',
          'Which feet finished sooner',
          [cox.crude, cox.adjusted, fineGray.crude, fineGray.adjusted],
          'Ratios above 1 mean sooner finishing.',
        ),
        modelTable(
          'time-ratios',
          'By how much the duration was multiplied',
          [time.crude, time.adjusted],
          'Ratios above 1 mean a longer therapy.',
        ),
      ],
      methods: methods(plan),
      cautions: [...CAUTIONS, ...distributionCaution(fits), ...modelCautions(models)],
    },
    trace: { ...trace, ...describingTrace(bands), ...modelled.trace },
  };
}
