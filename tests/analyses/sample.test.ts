import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { analyseExport, type Finding } from '../../src/analyses/index.ts';
import { BANDS } from '../../src/cohort/index.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { readExport } from '../../src/records/files/read-folder.ts';
import { referenceValues } from '../reference/load.ts';
import { expectClose } from '../statistics/relative.ts';
import { effectOf, findingOf, measureOf, rowNamed, testOf } from './looking.ts';

// The sample recomputed from its CSV files by an independent program in R; agreement to 1e-8.
const TOLERANCE = 1e-8;

interface SampleCurves {
  readonly incidence: {
    readonly causes: {
      readonly corrected: {
        readonly incidence: readonly number[];
        readonly standardError: readonly number[];
      };
    };
  };
  readonly kaplanMeier: {
    readonly survival: readonly number[];
    readonly quantilesDays: { readonly estimate: readonly (number | null)[] };
  };
}

interface SampleTerms {
  readonly name: readonly string[];
  readonly coefficient: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
}

interface SampleTest {
  readonly statistic: number;
  readonly p: number;
}

interface SampleKappa {
  readonly pairs: number;
  readonly kappa: number;
  readonly lower: number;
  readonly upper: number;
}

interface SampleModel {
  readonly n: number;
  readonly events: number;
  readonly terms: SampleTerms;
  readonly scoreRobust: number;
}

interface Sample {
  readonly timeToCorrection: {
    readonly feet: number;
    readonly infants: number;
    readonly causes: Readonly<Record<string, Readonly<Record<string, number>>>>;
    readonly curves: Readonly<Record<string, SampleCurves>>;
    readonly logRank: SampleTest & { readonly trend: SampleTest };
    readonly turnbull: Readonly<
      Record<
        string,
        { readonly incidenceLeast: readonly number[]; readonly incidenceMost: readonly number[] }
      >
    >;
    readonly weibull: Readonly<
      Record<string, { readonly incidence: readonly number[]; readonly medianDays: number }>
    >;
    readonly restrictedMean: {
      readonly kaplanMeier: Readonly<
        Record<string, { readonly estimate: number; readonly standardError: number }>
      >;
    };
    readonly cox: { readonly crude: SampleModel; readonly adjusted: SampleModel };
    readonly fineGray: {
      readonly crude: { readonly breslow: SampleTerms };
      readonly adjusted: { readonly n: number; readonly breslow: SampleTerms };
    };
  };
  readonly sensitivity: Readonly<Record<string, { readonly curves: Readonly<Record<string, SampleCurves>> }>>;
  readonly agreement: {
    readonly pairs: number;
    readonly position: { readonly linear: SampleKappa; readonly quadratic: SampleKappa };
    readonly flexibility: { readonly none: SampleKappa };
    readonly crease: { readonly none: SampleKappa };
  };
}

const sample = referenceValues('sample').values as Sample;
const reference = sample.timeToCorrection;
const WEEKS = [6, 8, 12, 16];
const Z = 1.959963984540054;

/** Names of the reference's covariates, and ours. */
const TERM: Readonly<Record<string, string>> = {
  moderate: 'band.moderate',
  severe: 'band.severe',
  age4w: 'age',
  male: 'sex.male',
  bilateral: 'bilateral',
  crease: 'crease',
  site_ombermoor: 'site.ombermoor',
  site_tarnholm: 'site.tarnholm',
};

let findings: readonly Finding[] = [];
let correction: Finding;

beforeAll(async () => {
  const plan = defaultPlan();
  const folder = fileURLToPath(new URL('../../synthetic-data', import.meta.url));
  const analyses = analyseExport(await readExport(folder, { plan }), plan);
  findings = analyses.map(({ finding }) => finding);
  correction = findingOf(analyses, 'time-to-correction');
});

function expectSameTerms(model: string, terms: SampleTerms, limits: boolean): void {
  for (const [i, name] of terms.name.entries()) {
    const effect = effectOf(correction, `${model}.${TERM[name] ?? name}`);
    expectClose(effect.estimate, Math.exp(terms.coefficient[i] as number), TOLERANCE);
    if (!limits) continue;
    expectClose(effect.lower, Math.exp(terms.lower[i] as number), TOLERANCE);
    expectClose(effect.upper, Math.exp(terms.upper[i] as number), TOLERANCE);
  }
}

describe('time to correction of the sample, against an independent recomputation in R', () => {
  it('counts the same feet, infants and ends', () => {
    expect(correction.population).toMatchObject({ feet: reference.feet, infants: reference.infants });
    for (const band of BANDS) {
      const causes = reference.causes[band] ?? {};
      for (const [name, count] of Object.entries(causes).filter(([key]) => key !== 'infants')) {
        expect(measureOf(correction, `${name}.${band}`).estimate).toBe(count);
      }
      expect(measureOf(correction, `feet.${band}`).infants).toBe(causes.infants);
    }
  });

  it('has the same cumulative incidence and visit-dated curve', () => {
    for (const band of BANDS) {
      const curves = reference.curves[band] as SampleCurves;
      const { incidence } = curves.incidence.causes.corrected;
      const at = (key: string) =>
        WEEKS.map(week => measureOf(correction, `${key}.week${week}.${band}`).estimate);
      expectClose(at('corrected'), incidence, TOLERANCE);
      expectClose(
        at('visit-dated'),
        curves.kaplanMeier.survival.map(survival => 1 - survival),
        TOLERANCE,
      );
      const quartiles = ['lower-quartile', 'median', 'upper-quartile'].map(
        key => (measureOf(correction, `${key}.${band}`).estimate ?? Number.NaN) * 7,
      );
      expectClose(quartiles, curves.kaplanMeier.quantilesDays.estimate, TOLERANCE);
    }
  });

  it('has the same interval-censored shares, by Turnbull and by Weibull', () => {
    for (const band of BANDS) {
      const at = (key: string) =>
        WEEKS.map(week => measureOf(correction, `${key}.week${week}.${band}`).estimate);
      expectClose(at('interval-censored.at-least'), reference.turnbull[band]?.incidenceLeast, TOLERANCE);
      expectClose(at('interval-censored.at-most'), reference.turnbull[band]?.incidenceMost, TOLERANCE);
      expectClose(at('weibull'), reference.weibull[band]?.incidence, TOLERANCE);
      const median = measureOf(correction, `weibull.median.${band}`).estimate ?? Number.NaN;
      expectClose(7 * median, reference.weibull[band]?.medianDays, TOLERANCE);
    }
  });

  it('has the same restricted means with limits', () => {
    for (const band of BANDS) {
      const mean = reference.restrictedMean.kaplanMeier[band];
      const own = measureOf(correction, `restricted-mean.${band}`);
      expectClose(7 * (own.estimate ?? 0), mean?.estimate, TOLERANCE);
      expectClose((7 * ((own.upper ?? 0) - (own.lower ?? 0))) / (2 * Z), mean?.standardError, TOLERANCE);
    }
  });

  it('has the same log-rank tests', () => {
    for (const [key, test] of [
      ['log-rank', reference.logRank],
      ['log-rank-trend', reference.logRank.trend],
    ] as const) {
      expectClose(testOf(correction, key).statistic, test.statistic, TOLERANCE);
      expectClose(testOf(correction, key).pValue, test.p, TOLERANCE);
    }
  });

  it('has the same Cox models, clustered by infant', () => {
    expectSameTerms('cox.crude', reference.cox.crude.terms, true);
    expectSameTerms('cox.adjusted', reference.cox.adjusted.terms, true);
    expect(effectOf(correction, 'cox.adjusted.age')).toMatchObject({
      n: reference.cox.adjusted.n,
      events: reference.cox.adjusted.events,
    });
  });

  it('has the same Fine–Gray ratios', () => {
    // Limits are not compared: the reference takes the censoring weights as known, ours allows for their estimation.
    expectSameTerms('fine-gray.crude', reference.fineGray.crude.breslow, false);
    expectSameTerms('fine-gray.adjusted', reference.fineGray.adjusted.breslow, false);
  });
});

describe('agreement and sensitivity of the sample, against an independent recomputation in R', () => {
  it('has the same kappas; upper limits end at 1', () => {
    const finding = findings.find(({ key }) => key === 'assessor-agreement') as Finding;
    const { pairs, position, flexibility, crease } = sample.agreement;
    expect(measureOf(finding, 'pairs').estimate).toBe(pairs);
    for (const [key, kappa] of [
      ['kappa.position.linear', position.linear],
      ['kappa.position.quadratic', position.quadratic],
      ['kappa.flexibility', flexibility.none],
      ['kappa.crease', crease.none],
    ] as const) {
      const own = measureOf(finding, key);
      expect(own.n).toBe(kappa.pairs);
      expectClose(
        [own.estimate, own.lower, own.upper],
        [kappa.kappa, kappa.lower, Math.min(1, kappa.upper)],
        TOLERANCE,
      );
    }
  });

  it('has the same shares by week 8 and medians under each alternative', () => {
    const finding = findings.find(({ key }) => key === 'sensitivity') as Finding;
    const cell = (label: string, column: string) => {
      const found = rowNamed(finding, label)[column];
      return typeof found === 'object' && 'estimate' in found ? found.estimate : undefined;
    };
    for (const [column, name] of [
      ['main', 'headline'],
      ['scheme-web', 'web'],
      ['bisector-alone', 'bisectorAlone'],
      ['flexibility-alone', 'flexibilityAlone'],
      ['confirmed', 'confirmedAtNextCheckup'],
      ['feet', 'oneFootPerInfant'],
    ] as const) {
      for (const band of BANDS) {
        const curves = sample.sensitivity[name]?.curves[band] as SampleCurves;
        expectClose(
          cell(`Seen corrected by week 8, ${band}`, column),
          curves.incidence.causes.corrected.incidence[1],
          TOLERANCE,
        );
        expectClose(
          7 * (cell(`Median time to correction, ${band}`, column) ?? Number.NaN),
          curves.kaplanMeier.quantilesDays.estimate[1],
          TOLERANCE,
        );
      }
    }
  });

  it('has as its main column what the other findings say', () => {
    const finding = findings.find(({ key }) => key === 'sensitivity') as Finding;
    const others = findings.filter(({ key }) => key !== 'sensitivity');
    const same = finding.measures.filter(({ key }) => /^(corrected|median|risk)\./.test(key));
    expect(same.length).toBe(9);
    for (const measure of same) {
      const there = others.flatMap(({ measures }) => measures).find(({ key }) => key === measure.key);
      expectClose(
        [measure.estimate, measure.lower, measure.upper],
        [there?.estimate, there?.lower, there?.upper],
        1e-15,
      );
    }
    expect(effectOf(correction, 'cox.trend').estimate).toBe(measureOf(finding, 'cox.trend').estimate);
  });
});

interface KnownTruth {
  readonly correction: {
    readonly bands: readonly {
      readonly band: string;
      /** By week since first fitting: straight, and seen corrected at a checkup. */
      readonly trueIncidence: readonly number[];
      readonly seenIncidence: readonly number[];
    }[];
  };
}

describe('the sample against the truth that it was made from', () => {
  // Twice the distance of the limits is some four standard errors: chance alone does not reach there.
  const expectWithinTwiceTheLimits = (key: string, truth: number | undefined): void => {
    const { estimate = Number.NaN, lower = Number.NaN, upper = Number.NaN } = measureOf(correction, key);
    expect(truth).toBeGreaterThan(estimate - 2 * (estimate - lower));
    expect(truth).toBeLessThan(estimate + 2 * (upper - estimate));
  };
  const truth = JSON.parse(
    readFileSync(new URL('../../synthetic-data/truth.json', import.meta.url), 'utf8'),
  ) as KnownTruth;

  it('recovers when correction is seen, by the cumulative incidence', () => {
    for (const { band, seenIncidence } of truth.correction.bands) {
      for (const week of WEEKS)
        expectWithinTwiceTheLimits(`corrected.week${week}.${band}`, seenIncidence[week]);
    }
  });

  it('recovers when feet are straight, which visit dating misses, by the interval-censored estimate', () => {
    // Up to week 8, before referral and withdrawal, which this estimate censors, take many feet.
    for (const { band, trueIncidence } of truth.correction.bands) {
      for (const week of [6, 8]) {
        expectWithinTwiceTheLimits(`interval-censored.at-least.week${week}.${band}`, trueIncidence[week]);
      }
      // At week 6 many feet are straight that no checkup has shown yet.
      const seen = measureOf(correction, `visit-dated.week6.${band}`);
      expect(trueIncidence[6]).toBeGreaterThan(seen.estimate ?? 1);
    }
  });
});
