import { clamp } from './arithmetic.ts';
import { fromIsoDate, isoDate, nextQuarterStart, quarterOf } from './calendar.ts';
import { changeAt } from './changes.ts';
import type { Scenario, Site } from './scenario.ts';
import { round } from './truth-correction.ts';

/**
 * Shares of two standards among first fittings of one day: a site counts by its weight, and what is left blank counts as
 * not done.
 */
export function standardShares(scenario: Scenario, day: number) {
  const { sites, recording } = scenario;
  const weights = sites.reduce((sum, site) => sum + site.weight, 0);
  const recorded = (shareAt: (site: Site) => number): number =>
    (1 - recording.fittingMissing) *
    sites.reduce((sum, site) => sum + (site.weight / weights) * clamp(shareAt(site), 0, 1), 0);
  return {
    teachBack: recorded(site => site.teachBack + changeAt(scenario, 'teach-back', site.code, day)),
    baselinePhotograph: recorded(site => site.baselinePhoto),
  };
}

/**
 * What there is for an audit to find, as it follows from the scenario: the shares of two standards by calendar quarter,
 * what sites differ in, and what changes.
 */
export function auditTruth(scenario: Scenario) {
  const { cohort, sites } = scenario;
  const first = fromIsoDate(cohort.start);
  const days: number[] = [];
  for (let day = first; day <= first + cohort.recruitmentDays; day = nextQuarterStart(day)) days.push(day);
  return {
    quarters: days.map(day => {
      const { teachBack, baselinePhotograph } = standardShares(scenario, day);
      return {
        quarter: `${isoDate(day).slice(0, 4)}-Q${(quarterOf(day) % 4) + 1}`,
        teachBack: round(teachBack),
        baselinePhotograph: round(baselinePhotograph),
      };
    }),
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
