import type { Plan } from '../../plan/plan.ts';
import { sameInBothFeet } from '../problems/consistency.ts';
import type { TableName } from '../records.ts';
import type { Checking } from './checking.ts';
import { column, lineOf, wordAt } from './checking.ts';
import type { Runs } from './groups.ts';
import { forEachRun, runsBy } from './groups.ts';

/** Fields of an examination in which two feet may be alike. */
const FINDINGS = [
  'date',
  'kind',
  'bisector_position',
  'bisector_angle_degrees',
  'flexibility',
  'medial_crease',
] as const;

/**
 * Feet of one infant with the very same rows, as when one foot was copied to the other: in their examinations, or in
 * what a sensor recorded. Diaries are left out, for parents often keep one for both feet.
 */
export function checkFeetApart(tables: Readonly<Record<TableName, Checking>>, { checks }: Plan): void {
  const { episodes, assessments, wear } = tables;
  const least = checks.sameInBothFeet;
  const visits = runsBy(assessments, 'episode_id', 'date', 'assessor_id');
  const days = runsBy(wear, 'episode_id', 'source', 'date');
  const codes = column(episodes, 'episode_id');
  const feet = column(episodes, 'foot');
  forEachRun(runsBy(episodes, 'infant_id', 'foot', 'start_date'), rows => {
    for (const a of rows) {
      for (const b of rows) {
        if (feet[a] === feet[b] || a >= b) continue;
        const pair = [codes[a] ?? -1, codes[b] ?? -1] as const;
        compare(assessments, runOf(visits, pair[0]), runOf(visits, pair[1]), FINDINGS, least.assessments);
        const sensor = (code: number): Int32Array =>
          runOf(days, code).filter(row => wordAt(wear, 'source', row) === 'sensor');
        compare(wear, sensor(pair[0]), sensor(pair[1]), ['date', 'hours_worn'], least.sensorDays);
      }
    }
  });
}

function compare(
  checking: Checking,
  a: Int32Array,
  b: Int32Array,
  fields: readonly string[],
  least: number,
): void {
  if (a.length !== b.length || a.length < least) return;
  const columns = fields.map(name => column(checking, name));
  for (let i = 0; i < a.length; i++) {
    for (const values of columns) if (values[a[i] as number] !== values[b[i] as number]) return;
  }
  const [first, second] = [lineOf(checking, a[0] ?? 0), lineOf(checking, b[0] ?? 0)].sort((x, y) => x - y);
  checking.problems.add(sameInBothFeet(checking.data.table.file, second ?? 0, first ?? 0, a.length));
}

function runOf({ order, start }: Runs, code: number): Int32Array {
  return order.subarray(start[code] ?? 0, start[code + 1] ?? start[code] ?? 0);
}
