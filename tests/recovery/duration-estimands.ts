import type { Scenario } from '../../src/synthetic/index.ts';
import type { Estimand } from './estimands.ts';
import { type LargeCohort, STUDY_BANDS } from './large-cohort.ts';

const QUESTION = 'severity-and-duration';

/**
 * Total duration of therapy: medians, and ratios of bands. A crude ratio is held against the same model in the large
 * cohort, and the time ratio also against the ratio of the medians, which is what a reader takes it for. Adjusted
 * ratios hold site, age and sex, so their truth is known only where severity has no bearing on anything.
 */
export function durationEstimands(large: LargeCohort, scenario: Scenario): readonly Estimand[] {
  return [...medians(large), ...crudeRatios(large), ...(withoutEffect(scenario) ? adjustedRatios() : [])];
}

function withoutEffect({ correction, therapist }: Scenario): boolean {
  return correction.logHoursPerStiffness === 0 && therapist.rule === 'time alone';
}

function medians({ curves }: LargeCohort): readonly Estimand[] {
  return STUDY_BANDS.map(band => {
    const { median } = curves[band].finished;
    return {
      name: `${QUESTION} median.${band}`,
      topic: 'duration',
      method: 'Kaplan–Meier',
      what: `${band}, median`,
      unit: 'weeks',
      truths: median === undefined ? {} : { seen: median / 7 },
    };
  });
}

function crudeRatios({ curves, duration }: LargeCohort): readonly Estimand[] {
  const mild = curves.mild.finished.median;
  return (['moderate', 'severe'] as const).flatMap((band): readonly Estimand[] => {
    const { median } = curves[band].finished;
    const shared = { topic: 'duration', what: `${band} to mild`, unit: 'log ratio' } as const;
    return [
      {
        ...shared,
        name: `${QUESTION} hazard-ratio.crude.${band}`,
        method: 'Cox model of finishing',
        truths: { seen: Math.log(duration.hazardRatio[band]) },
      },
      {
        ...shared,
        name: `${QUESTION} time-ratio.crude.${band}`,
        method: 'Weibull time ratio',
        truths: {
          seen: Math.log(duration.timeRatio[band]),
          ...(mild === undefined || median === undefined ? {} : { true: Math.log(median / mild) }),
        },
      },
    ];
  });
}

function adjustedRatios(): readonly Estimand[] {
  return (['moderate', 'severe'] as const).flatMap(band =>
    (
      [
        ['hazard-ratio', 'Cox model of finishing, adjusted'],
        ['time-ratio', 'Weibull time ratio, adjusted'],
      ] as const
    ).map(
      ([key, method]): Estimand => ({
        name: `${QUESTION} ${key}.adjusted.${band}`,
        topic: 'duration',
        method,
        what: `${band} to mild`,
        unit: 'log ratio',
        truths: { true: 0 },
      }),
    ),
  );
}
