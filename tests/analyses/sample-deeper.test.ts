// Models and comparisons in the committed sample export against an independent recomputation in R that starts from the same
// CSV files (tests/reference/scripts/sample/deeper-questions.R; survival, sandwich and by hand).
import { beforeAll, describe, expect, it } from 'vitest';
import {
  type Analysis,
  adherence,
  phaseOccupancy,
  relapseAfterStepDown,
  skinSafety,
} from '../../src/analyses/index.ts';
import type { Cohort } from '../../src/cohort/index.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import {
  effectOf,
  expectSame,
  expectSameEffect,
  expectSameMeasure,
  measureOf,
  recomputedDeeper,
  sampleCohort,
} from './sample.ts';

const plan = defaultPlan();
let cohort: Cohort;

beforeAll(async () => {
  cohort = await sampleCohort(plan);
});

describe('what goes with relapse in the sample', () => {
  let analysis: Analysis;

  beforeAll(() => {
    analysis = relapseAfterStepDown(cohort, plan);
  });

  it.each([
    ['weeks', 'crude', ['weeksBefore']],
    ['position', 'crude', ['position']],
    ['adherence', 'crude', ['adherence']],
    ['band', 'crude', ['moderate', 'severe']],
    ['adjusted', 'adjusted', ['weeksBefore', 'position', 'moderate', 'severe']],
    ['adjustedWithWear', 'adjustedWithWear', ['weeksBefore', 'position', 'adherence', 'moderate', 'severe']],
  ] as const)('agrees on the hazard ratios of the model %s', (model, panel, terms) => {
    const value = (field: string, place: number): unknown => recomputedDeeper('relapse', model, field, place);
    for (const [place, term] of terms.entries()) {
      const effect = effectOf(analysis, `cox.${panel}.${term}`);
      expect(effect.n).toBe(recomputedDeeper('relapse', model, 'n'));
      expect(effect.events).toBe(recomputedDeeper('relapse', model, 'events'));
      expectSameEffect(effect, value('ratio', place), [value('lower', place), value('upper', place)]);
    }
  });

  it.each([
    ['steps', ['15 to 12', '12 to none']],
    ['bands', ['moderate', 'severe']],
  ] as const)('agrees on the rate ratios between %s, exact and clustered', (key, groups) => {
    for (const [place, group] of groups.entries()) {
      const exact = (field: string): unknown => recomputedDeeper('rateRatios', key, 'exact', place, field);
      const clustered = (field: string): unknown =>
        recomputedDeeper('rateRatios', key, 'clustered', field, place);
      expectSameEffect(effectOf(analysis, `rateRatio.${key}.exact.${group}`), exact('ratio'), [
        exact('lower'),
        exact('upper'),
      ]);
      expectSameEffect(effectOf(analysis, `rateRatio.${key}.clustered.${group}`), clustered('ratio'), [
        clustered('lower'),
        clustered('upper'),
      ]);
    }
  });
});

describe('going back to full time in the sample', () => {
  it.each(['all', 'mild', 'moderate', 'severe'])('agrees on the chance by week, %s', group => {
    const analysis = phaseOccupancy(cohort, plan);
    const value = (...path: readonly (string | number)[]): unknown =>
      recomputedDeeper('returns', group, ...path);
    expectSameMeasure(measureOf(analysis, `back.${group}`), value('back'));
    for (const [place, week] of [6, 12, 16].entries()) {
      const measure = measureOf(analysis, `back.week${week}.${group}`);
      const chance = value('causes', 'back', 'incidence', place);
      // A chance of 0 has no limits there; ours has the exact one, tested by hand.
      const limits = ['lowerLogLog', 'upperLogLog'].map(field => value('causes', 'back', field, place));
      expectSameMeasure(measure, chance, chance === 0 ? undefined : [limits[0], limits[1]]);
    }
  });
});

describe('skin events in the sample', () => {
  let analysis: Analysis;

  beforeAll(() => {
    analysis = skinSafety(cohort, plan);
  });

  it('agrees on blisters and sores by weeks since first fitting', () => {
    for (const [place, stretch] of [
      'weeks 0 to 2',
      'weeks 2 to 6',
      'weeks 6 to 12',
      'after week 12',
    ].entries()) {
      const value = (field: string): unknown => recomputedDeeper('skinByWeeks', place, field);
      const key = `blister or pressure sore.${stretch}`;
      expectSameMeasure(measureOf(analysis, `events.${key}`), value('events'));
      expectSameMeasure(measureOf(analysis, `footWeeks.${key}`), value('footWeeks'));
      expectSameMeasure(measureOf(analysis, `rate.${key}`), value('per100'), [
        value('lower'),
        value('upper'),
      ]);
    }
  });

  it('agrees on the rates by fitting of the shell', () => {
    for (const [name, path] of [
      ['shell opened at the ankle', 'ankle'],
      ['shell relieved over the toe', 'toe'],
    ] as const) {
      for (const [group, part] of [
        ['blister or pressure sore', 'sore'],
        ['any skin event', 'any'],
      ] as const) {
        const exact = (field: string): unknown => recomputedDeeper('fittings', path, part, 'exact', 0, field);
        const clustered = (field: string): unknown =>
          recomputedDeeper('fittings', path, part, 'clustered', field, 0);
        const key = (how: string): string => `rateRatio.${name}.${group}.${how}.${name}`;
        expectSameEffect(effectOf(analysis, key('exact')), exact('ratio'), [exact('lower'), exact('upper')]);
        expectSameEffect(effectOf(analysis, key('clustered')), clustered('ratio'), [
          clustered('lower'),
          clustered('upper'),
        ]);
      }
    }
  });

  it('agrees on review in time', () => {
    const value = (field: string): unknown => recomputedDeeper('review', field);
    expectSameMeasure(measureOf(analysis, 'review.due'), value('due'));
    expectSameMeasure(measureOf(analysis, 'review.inTime'), value('inTime'));
    const share = measureOf(analysis, 'review.share');
    expectSameMeasure(share, Number(value('inTime')) / Number(value('due')), [
      value('lower'),
      value('upper'),
    ]);
  });
});

describe('adherence in the sample', () => {
  it('agrees on the hazard of correction with missing days as not worn', () => {
    const analysis = adherence(cohort, plan);
    const value = (field: string): unknown => recomputedDeeper('laggedNotWorn', field);
    expectSameMeasure(measureOf(analysis, 'model.footDays.not worn'), value('footDaysWithValue'));
    expectSameMeasure(measureOf(analysis, 'model.feet.not worn'), value('feetWithValue'));
    expectSameMeasure(measureOf(analysis, 'model.corrections.not worn'), value('correctionsWithValue'));
    // Ours is for 10 percentage points, theirs for the whole fraction.
    for (const [model, panel] of [
      ['adherenceAlone', 'crude'],
      ['withBand', 'adjusted'],
    ] as const) {
      const term = (field: string): number =>
        Math.exp(Number(recomputedDeeper('laggedNotWorn', model, 'terms', field, 0)) / 10);
      expectSameEffect(
        effectOf(analysis, `cox.correction.not worn.${panel}.adherence`),
        term('coefficient'),
        [term('lower'), term('upper')],
      );
    }
  });

  it('agrees on the share of feet that reach the days covered', () => {
    const share = measureOf(adherence(cohort, plan), 'daysCovered.shareReached.all');
    const value = (field: string): unknown => recomputedDeeper('daysCovered', field);
    expectSame(Number(share.n), value('feet'), 'feet');
    expectSameMeasure(share, value('share'), [value('lower'), value('upper')]);
  });
});
