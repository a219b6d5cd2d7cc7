import { quarterNamed } from '../../src/analyses/index.ts';
import { fromIsoDate } from '../../src/synthetic/calendar.ts';
import { changeAt } from '../../src/synthetic/changes.ts';
import type { Scenario } from '../../src/synthetic/index.ts';
import type { Estimand } from './estimands.ts';

/**
 * Shares of the last full quarter that follow from the scenario alone: a site counts by its weight, and what is left
 * blank counts as not done.
 */
export function auditShares(scenario: Scenario): readonly Estimand[] {
  const { cohort, sites, recording } = scenario;
  const cutOff = fromIsoDate(cohort.start) + cohort.recruitmentDays + cohort.cutOffDaysAfter;
  const { firstDay } = quarterNamed('previous', cutOff, 1);
  const weights = sites.reduce((sum, site) => sum + site.weight, 0);
  const recorded = (shareAt: (site: (typeof sites)[number]) => number): number =>
    (1 - recording.fittingMissing) *
    sites.reduce((sum, site) => sum + (site.weight / weights) * Math.min(1, Math.max(0, shareAt(site))), 0);
  const of = (key: string, what: string, share: number): Estimand => ({
    name: `audit share.${key}`,
    topic: 'audit',
    method: 'Share of a quarter, Wilson',
    what,
    unit: 'share',
    truths: { true: share },
  });
  return [
    of(
      'teach-back',
      'teach-back, last full quarter',
      recorded(site => site.teachBack + changeAt(scenario, 'teach-back', site.code, firstDay)),
    ),
    of(
      'baseline-photograph',
      'photograph, last full quarter',
      recorded(site => site.baselinePhoto),
    ),
  ];
}
