// Everything that runs in a browser as well: no file is read or written here.
export * from './plan/plan.ts';
export { planDocument } from './plan/plan-document.ts';
export { PlanError, planHash, type PlanProblem, readPlan } from './plan/read-plan.ts';
export * from './records/accessors.ts';
export { daysFromIsoDate, isoDate } from './records/calendar-date.ts';
export { DICTIONARY } from './records/dictionary.ts';
export { type GivenRows, recordsFromRows } from './records/from-rows.ts';
export type { Mapping } from './records/mapping/mapping.ts';
export { MappingError, readMapping } from './records/mapping/read-mapping.ts';
export * from './records/records.ts';
export type { AssessmentRow, EpisodeRow, EventRow, PhaseRow, WearColumns, WearRow } from './records/rows.ts';
export { UnusableExport } from './records/unusable-export.ts';
export * from './cohort/index.ts';
export * from './analyses/index.ts';
export * from './figures/index.ts';
export * from './reports/index.ts';
export * from './statistics/further.ts';
export * from './synthetic/index.ts';
