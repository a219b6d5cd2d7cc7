import { fromIsoDate, isoDate, nextQuarterStart, quarterOf } from './calendar.ts';
import { changeAt } from './changes.ts';
import type { Scenario } from './scenario.ts';
import { round } from './truth-correction.ts';

/**
 * What there is for an audit to find, as it follows from the scenario: the shares of two standards by calendar quarter
 * (a site counts by its weight, and what is left blank counts as not done), what sites differ in, and what changes.
 */
export function auditTruth(scenario: Scenario) {
  const { cohort, sites, recording } = scenario;
  const weights = sites.reduce((sum, site) => sum + site.weight, 0);
  const recorded = (shareAt: (site: (typeof sites)[number]) => number): number =>
    round(
      (1 - recording.fittingMissing) *
        sites.reduce(
          (sum, site) => sum + (site.weight / weights) * Math.min(1, Math.max(0, shareAt(site))),
          0,
        ),
    );
  const first = fromIsoDate(cohort.start);
  const last = first + cohort.recruitmentDays;
  const days: number[] = [];
  for (let day = first; day <= last; day = nextQuarterStart(day)) days.push(day);
  return {
    quarters: days.map(day => ({
      quarter: `${isoDate(day).slice(0, 4)}-Q${(quarterOf(day) % 4) + 1}`,
      teachBack: recorded(site => site.teachBack + changeAt(scenario, 'teach-back', site.code, day)),
      baselinePhotograph: recorded(site => site.baselinePhoto),
    })),
    sites: sites.map(site => ({
      site: site.code,
      teachBack: site.teachBack,
      baselinePhotograph: site.baselinePhoto,
      reviewInTime: site.reviewInTime,
      firstCheckupDelay: site.firstCheckupDelay,
      secondCheckupDelay: site.secondCheckupDelay,
    })),
    changes: scenario.changes,
  };
}
