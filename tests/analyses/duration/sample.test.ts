// The duration analyses of the committed sample export against an independent recomputation in R that starts from the
// same CSV files (tests/reference/sample.md, scripts/sample/results-duration.R). Both programs reach the maximum of a
// likelihood by iteration, so figures agree to 1e-8 relative.
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { durationFits, type DurationFits } from '../../../src/analyses/duration/fits.ts';
import { analyseDuration } from '../../../src/analyses/duration/index.ts';
import type { Analysis, Effect, Finding, Measure, TestResult } from '../../../src/analyses/index.ts';
import { buildCohort, type Cohort } from '../../../src/cohort/index.ts';
import { defaultPlan } from '../../../src/plan/plan.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { referenceValues } from '../../reference/load.ts';

interface Terms {
  readonly name: readonly string[];
  readonly coefficient: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
}
interface CoxReference {
  readonly n: number;
  readonly events: number;
  readonly terms: Terms;
  readonly proportionalHazards: {
    readonly name: readonly string[];
    readonly statistic: readonly number[];
    readonly p: readonly number[];
  };
}
interface FailureReference {
  readonly n: number;
  readonly terms: Terms;
  readonly logLikelihood: number;
  readonly aic: number;
}
interface BandReference {
  readonly kaplanMeier: {
    readonly quantilesDays: {
      readonly estimate: readonly number[];
      readonly lower: readonly (number | null)[];
      readonly upper: readonly (number | null)[];
    };
  };
  readonly incidence: {
    readonly censored: number;
    readonly day: readonly number[];
    readonly causes: Readonly<
      Record<
        string,
        {
          readonly events: number;
          readonly incidence: readonly number[];
          readonly lowerLogLog: readonly (number | null)[];
          readonly upperLogLog: readonly (number | null)[];
        }
      >
    >;
  };
}
interface DurationReference {
  readonly feet: number;
  readonly infants: number;
  readonly leftOutOfAdjusted: number;
  readonly byBand: Readonly<Record<string, BandReference>>;
  readonly logRank: {
    readonly statistic: number;
    readonly df: number;
    readonly p: number;
    readonly trend: { readonly statistic: number; readonly p: number };
  };
  readonly amongFinished: {
    readonly jonckheereTerpstra: { readonly z: number; readonly p: number };
    readonly spearman: { readonly rho: number; readonly p: number };
  };
  readonly cox: Readonly<Record<'crude' | 'adjusted', CoxReference>>;
  readonly acceleratedFailure: Readonly<
    Record<string, Readonly<Record<'crude' | 'adjusted', FailureReference>>>
  >;
}

const COLUMN_NAMES: Readonly<Record<string, string>> = {
  moderate: 'band.moderate',
  severe: 'band.severe',
  age4w: 'age',
  male: 'sex.male',
  site_ombermoor: 'site.ombermoor',
  site_tarnholm: 'site.tarnholm',
};
const plan = defaultPlan();
const reference = (referenceValues('sample').values as { readonly totalDuration: DurationReference })
  .totalDuration;

describe('severity and duration in the sample export, against an independent recomputation in R', () => {
  let cohort: Cohort = {
    service: undefined,
    cutOff: 0,
    feet: [],
    stepDowns: [],
    flow: [],
    pairedAssessments: [],
  };
  let analyses: readonly Analysis[] = [];
  let fits: DurationFits | undefined;

  beforeAll(async () => {
    const folder = fileURLToPath(new URL('../../../synthetic-data', import.meta.url));
    cohort = buildCohort(await readExport(folder, { plan }), plan);
    analyses = analyseDuration(cohort, plan);
    fits = durationFits(cohort, plan);
  }, 60_000);

  const finding = (key: string): Finding => {
    const found = analyses.find(analysis => analysis.finding.key === key);
    if (found === undefined) throw new Error(`no finding ${key}`);
    return found.finding;
  };
  const main = (): Finding => finding('severity-and-duration');
  const measure = (key: string): Measure => named(main().measures, key);
  const test = (of: string, key: string): TestResult => named(finding(of).tests, key);

  it('has the same feet, ends and infants', () => {
    expect(main().population.feet).toBe(reference.feet);
    expect(main().population.infants).toBe(reference.infants);
    for (const [band, { incidence }] of Object.entries(reference.byBand)) {
      expect(measure(`censored.${band}`).estimate).toBe(incidence.censored);
      for (const cause of ['finished', 'referred', 'withdrawn']) {
        expect(measure(`${cause}.${band}`).estimate, `${cause}, ${band}`).toBe(
          incidence.causes[cause]?.events ?? 0,
        );
      }
    }
    expect(measure('models.incomplete').estimate).toBe(reference.leftOutOfAdjusted);
  });

  it('has the same quartiles of duration with their limits', () => {
    for (const [band, { kaplanMeier }] of Object.entries(reference.byBand)) {
      for (const [place, key] of ['lower-quartile', 'median', 'upper-quartile'].entries()) {
        const { estimate, lower, upper } = measure(`${key}.${band}`);
        const quantiles = kaplanMeier.quantilesDays;
        expectAgreement(
          [estimate, lower, upper],
          [quantiles.estimate[place], quantiles.lower[place], quantiles.upper[place]].map(day =>
            typeof day === 'number' ? day / 7 : undefined,
          ),
          `${key} ${band}`,
        );
      }
    }
  });

  it('has the same cumulative incidence of finishing with its clustered limits', () => {
    for (const [band, { incidence }] of Object.entries(reference.byBand)) {
      for (const week of plan.duration.reportWeeks) {
        const place = incidence.day.indexOf(week * 7);
        const finished = incidence.causes.finished;
        const { estimate, lower, upper } = measure(`finished.week${week}.${band}`);
        expect(place).toBeGreaterThanOrEqual(0);
        expectAgreement(
          [estimate, lower, upper],
          [finished?.incidence[place], finished?.lowerLogLog[place], finished?.upperLogLog[place]],
          `week ${week} ${band}`,
        );
      }
    }
  });

  it('has the same log-rank tests and rank tests among finished feet', () => {
    const { logRank, amongFinished } = reference;
    const of = 'severity-and-duration';
    const across = test(of, 'log-rank');
    expectAgreement(
      [across.statistic, across.degreesOfFreedom, across.pValue],
      [logRank.statistic, logRank.df, logRank.p],
    );
    const trend = test(of, 'log-rank-trend');
    expectAgreement([trend.statistic, trend.pValue], [logRank.trend.statistic, logRank.trend.p]);
    const ordered = test(of, 'jonckheere-terpstra');
    expectAgreement(
      [ordered.statistic, ordered.pValue],
      [amongFinished.jonckheereTerpstra.z, amongFinished.jonckheereTerpstra.p],
    );
    const ranks = test(of, 'spearman');
    expectAgreement([ranks.statistic, ranks.pValue], [amongFinished.spearman.rho, amongFinished.spearman.p]);
  });

  it.each(['crude', 'adjusted'] as const)(
    'has the same %s hazard ratios with clustered limits',
    adjustment => {
      const { n, terms } = reference.cox[adjustment];
      expectTerms(main().effects ?? [], `cox.${adjustment}`, terms, n);
    },
  );

  it.each(['crude', 'adjusted'] as const)('has the same %s tests of proportional hazards', adjustment => {
    const { name, statistic, p } = reference.cox[adjustment].proportionalHazards;
    for (const [place, term] of name.entries()) {
      const key = term === 'GLOBAL' ? 'all' : (COLUMN_NAMES[term] ?? term);
      const found = test('duration-model-checks', `proportional-hazards.${adjustment}.${key}`);
      // A statistic of some 1e-4 is a small difference of larger sums: agreement is absolute there.
      expect(found.statistic ?? -1, key).toBeCloseTo(statistic[place] ?? 0, 8);
      expect(found.pValue ?? -1, key).toBeCloseTo(p[place] ?? 0, 8);
    }
  });

  it.each(['crude', 'adjusted'] as const)(
    'has the same %s time ratios and fits of three distributions',
    adjustment => {
      for (const [distribution, models] of Object.entries(reference.acceleratedFailure)) {
        const model = fits?.distributions.find(
          found => found.distribution === distribution && found.adjustment === adjustment,
        );
        const expected = models[adjustment];
        expectTerms(model?.effects ?? [], model?.key ?? '', expected.terms, expected.n);
        const row = named(finding('duration-model-checks').tables, 'distributions').rows.find(
          line =>
            typeof line.distribution === 'string' &&
            line.distribution.startsWith(distribution) &&
            line.model === adjustment,
        );
        expectAgreement(
          [Number(row?.logLikelihood), Number(row?.akaike)],
          [expected.logLikelihood, expected.aic],
          distribution,
        );
      }
    },
  );
});

function expectTerms(effects: readonly Effect[], prefix: string, terms: Terms, n: number): void {
  for (const [place, name] of terms.name.entries()) {
    if (name === 'intercept' || name === 'logScale') continue;
    const effect = named(effects, `${prefix}.${COLUMN_NAMES[name] ?? name}`);
    expect(effect.n).toBe(n);
    expectAgreement(
      [effect.estimate, effect.lower, effect.upper],
      [terms.coefficient[place], terms.lower[place], terms.upper[place]].map(value =>
        Math.exp(value ?? Number.NaN),
      ),
      `${prefix}, ${name}`,
    );
  }
}

function named<T extends { readonly key: string }>(all: readonly T[], key: string): T {
  const found = all.find(item => item.key === key);
  if (found === undefined) throw new Error(`no ${key}`);
  return found;
}

function expectAgreement(
  ours: readonly (number | undefined)[],
  theirs: readonly (number | null | undefined)[],
  what = '',
): void {
  expect(ours.length).toBe(theirs.length);
  for (const [place, value] of ours.entries()) {
    const expected = theirs[place] ?? undefined;
    if (expected === undefined) expect(value, what).toBeUndefined();
    else expect(Math.abs((value ?? Number.NaN) / expected - 1), what).toBeLessThan(1e-8);
  }
}
