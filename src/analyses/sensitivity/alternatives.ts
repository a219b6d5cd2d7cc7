import { buildCohort } from '../../cohort/build-cohort.ts';
import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { ExportRecords } from '../../records/records.ts';
import { formatTick } from '../../wording/format.ts';
import { DAYS_IN_WEEK } from '../tools/curves.ts';

/** The headline numbers that a change can touch. */
export type Touched = 'correction' | 'relapse' | 'adherence';

/** One setting changed, the others as in the plan. */
export interface Alternative {
  readonly key: string;
  readonly label: string;
  readonly touches: readonly Touched[];
  /** The cohort and the plan under the change. */
  readonly apply: () => { readonly cohort: Cohort; readonly plan: Plan };
}

const RULES: Readonly<Record<Plan['severity']['rule'], string>> = {
  'worse of': 'Worse of bisector and flexibility',
  'bisector alone': 'Bisector alone',
  'flexibility alone': 'Flexibility alone',
};

/** The alternatives to a plan, each away from what the plan itself says. */
export function alternatives(records: ExportRecords, cohort: Cohort, plan: Plan): readonly Alternative[] {
  const rules = (Object.keys(RULES) as (keyof typeof RULES)[]).filter(rule => rule !== plan.severity.rule);
  const scheme = plan.severity.scheme === 'web' ? 'toe' : 'web';
  const confirmed = !plan.correction.confirmedAtNextCheckup;
  const missingDays = plan.adherence.missingDays === 'missing' ? 'not worn' : 'missing';
  const use = plan.feet.use === 'all' ? 'one per infant' : 'all';
  const rebuilt = (changed: Plan, from: ExportRecords = records) => ({
    cohort: buildCohort(from, changed),
    plan: changed,
  });
  // The wear log is by far the longest table, and says nothing about correction.
  const withoutWear = { ...records, tables: { ...records.tables, wear: records.tables.wear.slice(0, 0) } };
  return [
    {
      key: `scheme-${scheme}`,
      label: `Severity scheme ${scheme}`,
      touches: ['correction'],
      apply: () => rebuilt({ ...plan, severity: { ...plan.severity, scheme } }, withoutWear),
    },
    ...rules.map(
      (rule): Alternative => ({
        key: rule.replaceAll(' ', '-'),
        label: RULES[rule],
        touches: ['correction'],
        apply: () => rebuilt({ ...plan, severity: { ...plan.severity, rule } }, withoutWear),
      }),
    ),
    {
      key: 'confirmed',
      label: confirmed ? 'Correction confirmed at the next checkup' : 'Correction without confirmation',
      touches: ['correction'],
      apply: () =>
        rebuilt(
          { ...plan, correction: { ...plan.correction, confirmedAtNextCheckup: confirmed } },
          withoutWear,
        ),
    },
    {
      key: 'missing-days',
      label: missingDays === 'not worn' ? 'Missing wear as not worn' : 'Missing wear as missing',
      touches: ['adherence'],
      apply: () => rebuilt({ ...plan, adherence: { ...plan.adherence, missingDays } }),
    },
    {
      key: 'feet',
      label: use === 'all' ? 'All feet' : 'One foot per infant',
      touches: ['correction', 'relapse', 'adherence'],
      apply: () => rebuilt({ ...plan, feet: { ...plan.feet, use } }),
    },
    {
      key: 'follow-up',
      label: `Fitted ${formatTick(plan.sensitivity.minimumFollowUpWeeks)} weeks or more before the cut-off`,
      touches: ['correction', 'relapse', 'adherence'],
      apply: () => ({ cohort: withFollowUp(cohort, plan), plan }),
    },
  ];
}

/** Feet first fitted long enough before the cut-off, whatever became of them, and their step-downs. */
function withFollowUp(cohort: Cohort, plan: Plan): Cohort {
  const latestStart = cohort.cutOff - plan.sensitivity.minimumFollowUpWeeks * DAYS_IN_WEEK;
  const feet = cohort.feet.filter(foot => foot.startDate <= latestStart);
  const kept = new Set(feet.map(foot => foot.episode));
  return { ...cohort, feet, stepDowns: cohort.stepDowns.filter(({ episode }) => kept.has(episode)) };
}
