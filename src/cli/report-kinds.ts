import { type Analysis, analyseAudit, analyseDuration, analyseExport, baseline } from '../analyses/index.ts';
import type { Cohort } from '../cohort/index.ts';
import type { Plan } from '../plan/plan.ts';
import type { ExportRecords } from '../records/records.ts';
import { type FindingsInput, flowLines, provenanceOf } from '../reports/index.ts';
import { UserError } from './command.ts';
import { software } from './software.ts';

/** The questions of a report; `quarter` is that of an audit. */
export type Questions = (records: ExportRecords, plan: Plan, cohort: Cohort) => readonly Analysis[];

/** Those of the study of severity and total duration. */
export const durationQuestions: Questions = (_records, plan, cohort) => [
  baseline(cohort, plan),
  ...analyseDuration(cohort, plan),
];

/**
 * Those of the audit of a quarter.
 *
 * @throws UserError for a quarter that cannot be read
 */
export function auditQuestions(quarter: string): Questions {
  return (_records, plan, cohort) => {
    try {
      return analyseAudit(cohort, plan, quarter);
    } catch (error) {
      throw error instanceof RangeError && error.message.startsWith('quarter')
        ? new UserError(`--quarter: ${error.message}`, { cause: error })
        : error;
    }
  };
}

/** The questions of a report of a kind as the ledger names it; undefined for a kind of another version. */
export function questionsOf(kind: string, quarter: string | undefined): Questions | undefined {
  // A report for teaching has the numbers of the report it is made of, and the truth beside them.
  switch (kind === 'teaching' ? 'cohort' : kind.replace(/^teaching-/, '')) {
    case 'cohort':
      return analyseExport;
    case 'duration':
      return durationQuestions;
    case 'audit':
      return quarter === undefined ? undefined : auditQuestions(quarter);
    default:
      return undefined;
  }
}

/** What a cohort answers to some questions, with where it comes from. */
export function answersOf(
  { records, cohort, plan }: { records: ExportRecords; cohort: Cohort; plan: Plan },
  questions: Questions,
): FindingsInput {
  return {
    findings: questions(records, plan, cohort).map(({ finding }) => finding),
    flow: flowLines(cohort.flow),
    provenance: provenanceOf(records, plan, software()),
    plan,
  };
}
