import type { Plan } from '../../plan/plan.ts';
import type { FindingTable } from '../finding.ts';
import { bySign, SIGNS } from './measures.ts';
import type { StepResult } from './step-results.ts';

export function riskTable(results: readonly StepResult[], plan: Plan): FindingTable {
  return {
    key: 'risk',
    title: 'Relapse after each step-down',
    columns: [
      { key: 'step', label: 'Step-down (hours)', kind: 'text' },
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'stepDowns', label: 'Step-downs', kind: 'count' },
      { key: 'followed', label: 'Followed', kind: 'count' },
      { key: 'relapses', label: 'Relapses', kind: 'count' },
      ...plan.relapse.reportWeeks.map(week => ({
        key: `week${week}`,
        label: `Risk by week ${week}`,
        unit: '%',
        kind: 'proportion' as const,
      })),
      { key: 'rate', label: 'Rate', unit: 'per 100 foot-weeks', kind: 'rate' },
    ],
    rows: results.map(result => ({
      step: result.step,
      band: result.band,
      stepDowns: result.stepDowns.length,
      followed: result.atRisk.length,
      relapses: result.relapsed.length,
      ...Object.fromEntries(
        result.risks.map(({ week, risk }) => [`week${week}`, 'state' in risk ? risk.state : risk]),
      ),
      rate: result.rate ?? 'no data',
    })),
    notes: [
      'Rows for all bands include feet whose band is not known.',
      plan.clustering.byInfant
        ? 'A risk of 0 has the exact upper limit of none among the infants followed.'
        : 'A risk of 0 has the exact upper limit of none among the step-downs followed.',
    ],
  };
}

export function signTable(results: readonly StepResult[]): FindingTable {
  return {
    key: 'signs',
    title: 'How follow-up ended after each step-down, and the sign by which relapse was seen',
    columns: [
      { key: 'step', label: 'Step-down (hours)', kind: 'text' },
      { key: 'stepDowns', label: 'Step-downs', kind: 'count' },
      { key: 'notSeenAfter', label: 'Not seen after', kind: 'count' },
      { key: 'noReference', label: 'No position to compare with', kind: 'count' },
      { key: 'relapses', label: 'Relapses', kind: 'count' },
      { key: 'bisector worse', label: 'Bisector worse', kind: 'count' },
      { key: 'longer hours', label: 'Longer hours', kind: 'count' },
      { key: 'both', label: 'Both on one day', kind: 'count' },
      { key: 'next', label: 'Next step-down', kind: 'count' },
      { key: 'left', label: 'Left therapy', kind: 'count' },
      { key: 'censored', label: 'Censored', kind: 'count' },
    ],
    rows: results
      .filter(result => result.band === 'all')
      .map(result => ({
        step: result.step,
        stepDowns: result.stepDowns.length,
        notSeenAfter: result.notSeenAfter.length,
        noReference: result.noReference.length,
        relapses: result.relapsed.length,
        ...Object.fromEntries(SIGNS.map(sign => [sign, bySign(result, sign).length])),
        next: endedAs(result, 2),
        left: endedAs(result, 3),
        censored: endedAs(result, 0),
      })),
    notes: ['The sign is the one that came first.'],
  };
}

function endedAs(result: StepResult, cause: number): number {
  return result.atRisk.filter(item => item.cause === cause).length;
}
