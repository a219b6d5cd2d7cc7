import { describe, expect, it } from 'vitest';
import { nextCheckups, overdueCheckups } from '../../../src/analyses/audit/overdue-checkups.ts';
import { type AuditFoot, cohortOf, planWith } from './hand-made.ts';

const plan = planWith();

describe('overdue checkups', () => {
  const latest = (more: Partial<AuditFoot>, cutOff = '2026-12-31') =>
    nextCheckups(cohortOf([{ id: 'a', start: '2026-01-01', phases: [[0, 24]], ...more }], cutOff), plan)[0];

  it.each([
    ['first', {}, 17],
    ['second', { seen: [[14]] }, 49],
    ['second, seen early twice', { seen: [[14], [34]] }, 49],
    ['third', { seen: [[14], [42]] }, 77],
    [
      'on 15 hours',
      {
        seen: [[42]],
        phases: [
          [0, 24],
          [42, 15],
        ],
      },
      68,
    ],
    [
      'on 15 hours, seen since',
      {
        seen: [[42], [60]],
        phases: [
          [0, 24],
          [42, 15],
        ],
      },
      86,
    ],
    [
      'on 12 hours',
      {
        seen: [[63]],
        phases: [
          [0, 24],
          [42, 15],
          [63, 12],
        ],
      },
      89,
    ],
    [
      'back in full time',
      {
        seen: [[63]],
        phases: [
          [0, 24],
          [42, 15],
          [63, 24],
        ],
      },
      98,
    ],
  ] as const)('falls due: %s', (_, more, day) => {
    expect(latest(more)?.latestDay).toBe(day);
  });

  it('is overdue on the day after its window', () => {
    // Day 17 is 18 January.
    expect(latest({}, '2026-01-18')?.overdue).toBe(false);
    expect(latest({}, '2026-01-19')?.overdue).toBe(true);
  });

  it('counts by site and leaves out feet without a phase', () => {
    const feet: readonly AuditFoot[] = [
      { id: 'a', start: '2026-01-01', site: 'south', phases: [[0, 24]] },
      { id: 'b', start: '2026-01-01', phases: [[0, 24]] },
      { id: 'c', start: '2026-03-25', phases: [[0, 24]] },
      { id: 'd', start: '2026-01-01' },
      { id: 'e', start: '2026-01-01', phases: [[0, 24]], end: [30, 'moved away'] },
    ];
    const { finding } = overdueCheckups(cohortOf(feet, '2026-03-31'), plan);
    expect(finding.statement).toBe(
      'On 31\u00A0March 2026, 2/3 (67\u202F%) of the feet in therapy were overdue for a checkup. By site: 1 at north; 1 at south.',
    );
    expect(finding.population).toMatchObject({ feet: 3, leftOut: [{ feet: 1 }] });
  });
});
