// Every measure, ratio, test, curve, risk table and population of the three reports on the sample against R. Nothing is
// left out but what is named here with the test that holds it.
import { beforeAll, describe, expect, it } from 'vitest';
import type { Analysis, Finding, Measure } from '../../src/analyses/index.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { differences, isSame, recomputedFinding, sampleAnalyses, type Value } from './sample-findings.ts';

/** Ratios that sample-deeper.test.ts compares, with the values of another script. */
const ELSEWHERE: Readonly<Record<string, RegExp>> = {
  'relapse-after-step-down': /^(rateRatio|cox)\./,
  'skin-safety': /^rateRatio\./,
};

let findings: readonly Finding[] = [];

beforeAll(async () => {
  const analyses: readonly Analysis[] = await sampleAnalyses(defaultPlan());
  findings = analyses.map(({ finding }) => finding);
}, 120_000);

const perFinding = (compare: (finding: Finding) => readonly string[]): readonly string[] =>
  findings.flatMap(finding => compare(finding).map(text => `${finding.key}: ${text}`));

describe('every number of the findings of the sample, against an independent recomputation in R', () => {
  it('has the same measures with their limits, and no measure beside them', () => {
    expect(findings).toHaveLength(17);
    let compared = 0;
    const wrong = perFinding(({ key, measures }) => {
      const { measures: expected, resampled = {} } = recomputedFinding(key);
      const unknown = measures.filter(measure => expected[measure.key] === undefined);
      return [
        ...unknown.map(measure => `${measure.key} is not recomputed`),
        ...measures.flatMap(measure => {
          const row = expected[measure.key];
          if (row === undefined) return [];
          compared++;
          const drawn = resampled[measure.key] !== undefined;
          return [
            ...differences(measure.key, { ...measure }, drawn ? ['estimate'] : LIMITED, row),
            ...sizesOf(measure, row.slice(3)),
          ];
        }),
      ];
    });
    expect(wrong).toEqual([]);
    expect(compared).toBeGreaterThan(1250);
  });

  it('has resampled limits where those of another resampling lie', () => {
    let compared = 0;
    const wrong = perFinding(({ key, measures }) =>
      Object.entries(recomputedFinding(key).resampled ?? {}).flatMap(([name, [a, b, c, d]]) => {
        const measure = measures.find(candidate => candidate.key === name);
        const { lower, upper } = measure ?? {};
        compared++;
        // Masses of 1 add up to 1 but for rounding; a limit of exactly 1 stands where the resampling has 1.
        const slack = 1e-9;
        const holds =
          lower === undefined || upper === undefined
            ? isSame(measure?.estimate, 1)
            : lower >= a - slack && lower <= b + slack && upper >= c - slack && upper <= d + slack;
        return holds ? [] : [`${name}: ${lower ?? ''} to ${upper ?? ''}, against ${[a, b, c, d].join(', ')}`];
      }),
    );
    expect(wrong).toEqual([]);
    expect(compared).toBe(15);
  });

  it('has the same ratios with their limits', () => {
    let compared = 0;
    const wrong = perFinding(({ key, effects = [] }) =>
      effects
        .filter(effect => ELSEWHERE[key]?.test(effect.key) !== true)
        .flatMap(effect => {
          compared++;
          const row = recomputedFinding(key).effects?.[effect.key];
          if (row === undefined) return [`${effect.key} is not recomputed`];
          return differences(effect.key, { ...effect }, [...LIMITED, 'n', 'events'], row);
        }),
    );
    expect(wrong).toEqual([]);
    expect(compared).toBeGreaterThan(110);
  });

  it('has the same tests', () => {
    const wrong = perFinding(({ key, tests }) =>
      tests.flatMap(test => {
        const row = recomputedFinding(key).tests?.[test.key];
        if (row === undefined) return [`${test.key} is not recomputed`];
        return differences(test.key, { ...test }, ['statistic', 'degreesOfFreedom', 'pValue'], row);
      }),
    );
    expect(wrong).toEqual([]);
  });

  it('has the same curves at each of their steps, and the same risk tables', () => {
    let compared = 0;
    const wrong = perFinding(({ key, curves }) =>
      curves.flatMap(curve => {
        const expected = recomputedFinding(key).curves?.[curve.key];
        if (expected === undefined) return [`${curve.key} is not recomputed`];
        const atSteps = curve.time.flatMap((time, place) => {
          // Weeks are sevenths of whole days, hours are sums of a day's hours: nearer than this is the same moment.
          const from = expected.time.findLastIndex(found => found <= time + 1e-9);
          if (from < 0) return [];
          compared++;
          const own = {
            estimate: curve.estimate[place],
            lower: curve.lower[place],
            upper: curve.upper[place],
          };
          return differences(
            `${curve.key} at ${time}`,
            own,
            LIMITED,
            LIMITED.map(field => expected[field][from] ?? null),
          );
        });
        const counts = recomputedFinding(key).riskTables?.[curve.key] ?? {};
        const inTable = (['atRisk', 'events', 'censored', 'competing'] as const).flatMap(field =>
          curve.riskTable[field].every((count, place) => count === counts[field]?.[place])
            ? []
            : [`${curve.key}, ${field}: ${curve.riskTable[field].join(' ')}`],
        );
        return [...atSteps, ...inTable];
      }),
    );
    expect(wrong).toEqual([]);
    expect(compared).toBeGreaterThan(1200);
  });

  it('has the same feet and infants analysed and left out, with the reasons', () => {
    const wrong = perFinding(({ key, population }) => {
      const { feet, infants, leftOut } = recomputedFinding(key).population.all;
      const own = Object.fromEntries(
        population.leftOut.map(group => [group.reason, [group.feet, group.infants]]),
      );
      const same =
        population.feet === feet &&
        population.infants === infants &&
        Object.keys(own).length === Object.keys(leftOut).length &&
        Object.entries(leftOut).every(([reason, counts]) => String(own[reason]) === String(counts));
      return same
        ? []
        : [`${JSON.stringify(population)} against ${JSON.stringify({ feet, infants, leftOut })}`];
    });
    expect(wrong).toEqual([]);
  });
});

const LIMITED = ['estimate', 'lower', 'upper'] as const;

/** n, infants and events, where both hold them. */
function sizesOf(measure: Measure, expected: readonly Value[]): readonly string[] {
  return (['n', 'infants', 'events'] as const).flatMap((field, place) => {
    const own = measure[field];
    const found = expected[place];
    return own === undefined || found === null || found === undefined || own === found
      ? []
      : [`${measure.key}, ${field}: ${String(own)} against ${found}`];
  });
}
