import { quarterNamed } from '../../src/analyses/index.ts';
import { fromIsoDate } from '../../src/synthetic/calendar.ts';
import type { Scenario } from '../../src/synthetic/index.ts';
import { standardShares } from '../../src/synthetic/truth-audit.ts';
import type { Estimand } from './estimands.ts';

/** Shares of the last full quarter that follow from the scenario alone. */
export function auditShares(scenario: Scenario): readonly Estimand[] {
  const { start, recruitmentDays, cutOffDaysAfter } = scenario.cohort;
  const { firstDay } = quarterNamed('previous', fromIsoDate(start) + recruitmentDays + cutOffDaysAfter, 1);
  const { teachBack, baselinePhotograph } = standardShares(scenario, firstDay);
  const of = (key: string, what: string, share: number): Estimand => ({
    name: `audit share.${key}`,
    topic: 'audit',
    method: 'Share of a quarter, Wilson',
    what: `${what}, last full quarter`,
    unit: 'share',
    truths: { true: share },
  });
  return [
    of('teach-back', 'teach-back', teachBack),
    of('baseline-photograph', 'photograph', baselinePhotograph),
  ];
}
