import type { Plan } from '../../plan/plan.ts';
import type { TableName } from '../records.ts';
import type { Checking } from './checking.ts';
import { checkVisits } from './consistent-visits.ts';
import { checkWornHours } from './consistent-wear.ts';
import { checkDigits } from './digit-preference.ts';
import type { EpisodeIndex } from './episode-index.ts';
import { checkFeetApart } from './feet-apart.ts';

/** Warns of what a clinician would look at twice, by the thresholds of `plan.checks`; no row is refused. */
export function checkConsistency(
  tables: Readonly<Record<TableName, Checking>>,
  episodes: EpisodeIndex,
  plan: Plan,
): void {
  checkVisits(tables.assessments, episodes, plan);
  checkWornHours(tables.wear, tables.phases, episodes, plan);
  checkFeetApart(tables, plan);
  checkDigits(tables.wear, plan);
}
