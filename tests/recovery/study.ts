import { type Estimand, estimandsOf, TESTS } from './estimands.ts';
import { type AuditRecovery, judgeAudit } from './audit-judge.ts';
import type { ExportAnswers } from './estimates.ts';
import { judge, judgeTest, type Recovery, type TestRecovery } from './judge.ts';
import { largeCohort } from './large-cohort.ts';
import { STUDIED, type Studied, studiedScenario } from './scenarios.ts';

/** All that the study says of one scenario. */
export interface ScenarioRecovery {
  readonly scenario: Studied;
  readonly description: string;
  readonly feet: number;
  readonly exports: number;
  readonly recoveries: readonly Recovery[];
  readonly tests: readonly TestRecovery[];
  /** How often the audit says what. */
  readonly audit: readonly AuditRecovery[];
  /** Analyses that threw, with the number of exports. */
  readonly failed: Readonly<Record<string, number>>;
}

/** The whole study: what `findings.json` of its report holds. */
export interface StudyResult {
  readonly version: 1;
  readonly seed: number;
  readonly exports: number;
  /** Infants of the large cohort behind the truth of each scenario. */
  readonly infantsOfTruth: number;
  readonly scenarios: readonly ScenarioRecovery[];
}

/** The names of measures that the study keeps from every export. */
export function wantedNames(estimands: readonly Estimand[]): ReadonlySet<string> {
  return new Set([...estimands.map(({ name }) => name), ...TESTS.map(({ name }) => name)]);
}

/** The estimands of a scenario from a large cohort of its own. */
export function scenarioEstimands(scenario: Studied, infants: number, seed: number): readonly Estimand[] {
  const studied = studiedScenario(scenario);
  return estimandsOf(largeCohort(studied, infants, seed + STUDIED.indexOf(scenario)), studied);
}

export function scenarioRecovery(
  scenario: Studied,
  estimands: readonly Estimand[],
  answers: readonly ExportAnswers[],
): ScenarioRecovery {
  const exports = answers.map(({ estimates }) => estimates);
  const failed: Record<string, number> = {};
  for (const one of exports) {
    for (const name of Object.keys(one).filter(key => key.startsWith('failed '))) {
      failed[name.slice(7)] = (failed[name.slice(7)] ?? 0) + 1;
    }
  }
  const { description, cohort } = studiedScenario(scenario);
  return {
    scenario,
    description,
    feet: cohort.feet,
    exports: exports.length,
    recoveries: estimands.flatMap(estimand => judge(estimand, exports)),
    tests: TESTS.map(({ name, key }) => judgeTest(name, key, exports)),
    audit: judgeAudit(scenario, answers),
    failed,
  };
}
