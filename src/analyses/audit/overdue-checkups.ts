import { spellOn } from '../../cohort/phase-spells.ts';
import { isCheckup } from '../../cohort/correction.ts';
import type { Cohort, Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatDate, formatShare } from '../../wording/format.ts';
import type { Analysis, FindingTable, Measure, TraceEntry } from '../finding.ts';
import { countInfants } from '../tools/people.ts';
import { traceFeet } from '../tools/trace.ts';

/** A foot in therapy with the last day on which its next checkup would still be on time; days since first fitting. */
export interface NextCheckup {
  readonly foot: Foot;
  readonly hours: number | undefined;
  /** Undefined where no schedule is known for the phase in force. */
  readonly latestDay: number | undefined;
  readonly overdue: boolean;
}

/**
 * When each foot in therapy should be seen next, by the windows of the audit standards.
 *
 * In full time: the first checkup, then the second, then as long again as from the first to the second. On 15 and 12
 * hours: the days of the standard after the last checkup or the start of the spell, whichever is later. Other phases have
 * no schedule. A checkup is overdue when its window has closed before the cut-off without the foot being seen.
 */
export function nextCheckups(cohort: Cohort, plan: Plan): readonly NextCheckup[] {
  return cohort.feet
    .filter(foot => foot.end === 'in therapy')
    .map(foot => {
      const spell = spellOn(foot.spells, foot.lastDay);
      const latestDay =
        spell === undefined ? undefined : latestDayOf(foot, spell.startDay, spell.prescribedHours, plan);
      return {
        foot,
        hours: spell?.prescribedHours,
        latestDay,
        overdue: latestDay !== undefined && foot.lastDay > latestDay,
      };
    });
}

function latestDayOf(foot: Foot, spellStart: number, hours: number, plan: Plan): number | undefined {
  const { firstCheckup, secondCheckup, checkupAt15Hours, checkupAt12Hours } = plan.audit;
  const seen = foot.visits.filter(visit => isCheckup(visit, foot)).map(visit => visit.day);
  const last = Math.max(spellStart, ...seen);
  if (hours === 15) return last + checkupAt15Hours.dueDay + checkupAt15Hours.withinDays;
  if (hours === 12) return last + checkupAt12Hours.dueDay + checkupAt12Hours.withinDays;
  if (hours !== plan.adherence.fullTimeHours) return undefined;
  if (seen.length === 0 && foot.spells[0]?.startDay === spellStart) {
    return firstCheckup.dueDay + firstCheckup.withinDays;
  }
  if (last < secondCheckup.dueDay - secondCheckup.withinDays) {
    return secondCheckup.dueDay + secondCheckup.withinDays;
  }
  return last + secondCheckup.dueDay - firstCheckup.dueDay + secondCheckup.withinDays;
}

/** Which feet in therapy had not been seen when they should have been, as of the data cut-off; counts by site. */
export function overdueCheckups(cohort: Cohort, plan: Plan): Analysis {
  const due = nextCheckups(cohort, plan);
  const overdue = due.filter(item => item.overdue).map(({ foot }) => foot);
  const withSchedule = due.filter(({ latestDay }) => latestDay !== undefined).map(({ foot }) => foot);
  const without = due.filter(({ latestDay }) => latestDay === undefined).map(({ foot }) => foot);
  const sites = sitesBySize(withSchedule);
  const trace: Record<string, TraceEntry> = {
    analysed: traceFeet('in therapy at the data cut-off, on hours with a schedule', withSchedule),
    overdue: traceFeet('in therapy, next checkup overdue at the data cut-off', overdue),
  };
  for (const site of sites) {
    trace[`feet.${site}`] = traceFeet(
      `in therapy at ${site} at the data cut-off, on hours with a schedule`,
      withSchedule.filter(foot => foot.site === site),
    );
    trace[`overdue.${site}`] = traceFeet(
      `in therapy at ${site}, next checkup overdue at the data cut-off`,
      overdue.filter(foot => foot.site === site),
    );
  }
  const measure = (key: string, label: string, feet: readonly Foot[], n: number): Measure => ({
    key,
    label,
    kind: 'count',
    unit: 'feet',
    estimate: feet.length,
    n,
    infants: countInfants(feet),
  });
  return {
    finding: {
      key: 'audit-overdue',
      version: 1,
      question: 'Which feet in therapy are overdue for a checkup?',
      statement: statement(overdue, withSchedule, sites, cohort.cutOff),
      population: {
        feet: withSchedule.length,
        infants: countInfants(withSchedule),
        leftOut:
          without.length === 0
            ? []
            : [
                {
                  reason: 'no phase with a schedule in force',
                  feet: without.length,
                  infants: countInfants(without),
                },
              ],
      },
      measures: [
        measure('overdue', 'Checkup overdue', overdue, withSchedule.length),
        ...sites.map(site => ({
          ...measure(
            `overdue.${site}`,
            `Checkup overdue at ${site}`,
            overdue.filter(foot => foot.site === site),
            withSchedule.filter(foot => foot.site === site).length,
          ),
          group: site,
        })),
      ],
      curves: [],
      tests: [],
      tables: withSchedule.length === 0 ? [] : [overdueTable(due, sites)],
      methods: [
        {
          text: 'A checkup is overdue when the window of the audit standard for the phase in force has closed and the foot has not been seen; later checkups in full time are due as long after the last one as the second is after the first',
          cites: [],
        },
      ],
      cautions: [
        'A checkup that took place but is not in the export counts as overdue. Which feet these are can be listed from the export; no report names them.',
      ],
    },
    trace,
  };
}

function overdueTable(due: readonly NextCheckup[], sites: readonly string[]): FindingTable {
  const scheduled = due.filter(({ latestDay }) => latestDay !== undefined);
  const hours = [...new Set(scheduled.map(item => item.hours ?? 0))].sort((a, b) => b - a);
  const row = (site: string, items: readonly NextCheckup[]) => ({
    site,
    therapy: items.length,
    overdue: items.filter(item => item.overdue).length,
    ...Object.fromEntries(
      hours.map(phase => [
        `hours${phase}`,
        items.filter(item => item.overdue && item.hours === phase).length,
      ]),
    ),
  });
  return {
    key: 'overdue',
    title: 'Feet in therapy and checkups overdue at the data cut-off, by site',
    columns: [
      { key: 'site', label: 'Site', kind: 'text' },
      { key: 'therapy', label: 'In therapy', kind: 'count', unit: 'feet' },
      { key: 'overdue', label: 'Overdue', kind: 'count', unit: 'feet' },
      ...hours.map(phase => ({
        key: `hours${phase}`,
        label: `Overdue on ${phase} hours`,
        kind: 'count' as const,
        unit: 'feet',
      })),
    ],
    rows: [
      ...sites.map(site =>
        row(
          site,
          scheduled.filter(({ foot }) => foot.site === site),
        ),
      ),
      ...(sites.length > 1 ? [row('All sites', scheduled)] : []),
    ],
    notes: ['Sites stand in the order of their size.'],
  };
}

function sitesBySize(feet: readonly Foot[]): readonly string[] {
  const sizes = new Map<string, number>();
  for (const { site } of feet) sizes.set(site, (sizes.get(site) ?? 0) + 1);
  return [...sizes].sort(([a, n], [b, m]) => m - n || (a < b ? -1 : 1)).map(([site]) => site);
}

function statement(
  overdue: readonly Foot[],
  scheduled: readonly Foot[],
  sites: readonly string[],
  cutOff: number,
): string {
  const when = `On ${formatDate(cutOff)},`;
  if (scheduled.length === 0) return `${when} no foot was in therapy with a checkup to come.`;
  const bySite = sites
    .map(site => ({ site, feet: overdue.filter(foot => foot.site === site).length }))
    .filter(({ feet }) => feet > 0)
    .map(({ site, feet }) => `${feet} at ${site}`);
  const where = bySite.length === 0 ? '' : ` By site: ${bySite.join('; ')}.`;
  return `${when} ${formatShare(overdue.length, scheduled.length)} of the feet in therapy were overdue for a checkup.${where}`;
}
