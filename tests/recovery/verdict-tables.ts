import type { DocumentTable } from '../../src/reports/document.ts';
import { formatCount, NOTHING } from '../../src/wording/format.ts';
import type { Recovery } from './judge.ts';
import type { ScenarioRecovery } from './study.ts';
import { type Verdict, VERDICTS, verdictOf } from './verdict.ts';

/** The target that a method aims at; what visit dating misses of the truth has tables of its own. */
export function aimedAt(r: Recovery): boolean {
  return r.target === 'seen' || !r.method.includes('visit-dated');
}

function judged({ recoveries }: ScenarioRecovery): readonly Recovery[] {
  return recoveries.filter(aimedAt);
}

/** Where a method fails: numbers that are not as they should be, of all, by method and scenario. */
export function verdictTable(scenarios: readonly ScenarioRecovery[]): DocumentTable {
  const nameOf = ({ topic, method }: Recovery) => `${topic}: ${method}`;
  const names = [...new Set(scenarios.flatMap(scenario => judged(scenario).map(nameOf)))];
  return {
    kind: 'table',
    key: 'failures',
    caption: 'Numbers that are not as they should be, of all of the kind, by scenario',
    columns: [
      { label: 'Number and method', align: 'left' },
      ...scenarios.map(({ scenario }) => ({ label: scenario, align: 'right' as const })),
    ],
    rows: names.map(name => [
      { text: name },
      ...scenarios.map(scenario => {
        const of = judged(scenario).filter(r => nameOf(r) === name);
        const failed = of.filter(r => verdictOf(r) !== 'as it should be');
        return {
          text: of.length === 0 ? NOTHING : `${formatCount(failed.length)}/${formatCount(of.length)}`,
        };
      }),
    ]),
    notes: [
      'Held against what the method aims at. Which numbers, and how they fail, stands under each scenario.',
    ],
  };
}

export function verdictCountTable(scenarios: readonly ScenarioRecovery[]): DocumentTable {
  const count = (scenario: ScenarioRecovery, verdict: Verdict) =>
    judged(scenario).filter(r => verdictOf(r) === verdict).length;
  return {
    kind: 'table',
    key: 'verdicts',
    caption: 'Verdicts by scenario',
    columns: [
      { label: 'Scenario', align: 'left' },
      ...VERDICTS.map(verdict => ({ label: verdict, align: 'right' as const })),
    ],
    rows: scenarios.map(scenario => [
      { text: scenario.scenario },
      ...VERDICTS.map(verdict => ({ text: formatCount(count(scenario, verdict)) })),
    ]),
    notes: [],
  };
}
