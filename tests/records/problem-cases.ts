import type { ProblemKind } from '../../src/records/problems/kinds.ts';
import type { ExportTexts } from '../../src/records/reading/read-text.ts';
import type { Problem } from '../../src/records/records.ts';

// Each export beside the one problem that it has. Episode E1 is the left foot of infant I1, first fitted 2025-02-10 and
// finished 2025-06-01; E2 is the right foot of infant I2, in therapy from 2025-03-01.

export type Case = readonly [ProblemKind, Problem['severity'], ExportTexts, string];

const rows = (header: string, ...lines: readonly string[]): string => [header, ...lines].join('\n');
const VISITS = 'episode_id,date,kind,bisector_position,flexibility';
const WEAR = 'episode_id,date,source,hours_worn';
const PHASES = 'episode_id,start_date,end_date,prescribed_hours';

const march = (day: number): string => `2025-03-${String(day).padStart(2, '0')}`;
const BOTH_FEET = rows(
  'episode_id,infant_id,site_id,foot,age_at_start_days,start_date',
  'E1,I1,North,left,60,2025-02-10',
  'E2,I1,North,right,60,2025-02-10',
);
const VISIT_DAYS = ['2025-02-10', '2025-02-24', '2025-03-24', '2025-04-14', '2025-05-05'];

export const OF_CONSISTENCY: readonly Case[] = [
  [
    'bisector-jump',
    'warning',
    { assessments: rows(VISITS, 'E1,2025-02-10,baseline,4.5,', 'E1,2025-02-17,checkup,2.5,') },
    'assessments.csv, line 3: bisector_position "2.5" is 2 positions from 4.5 on line 2, 7 days before; allowed: a change of less than 2 positions in so short a time',
  ],
  [
    'correction-before-first-checkup',
    'warning',
    { assessments: rows(VISITS, 'E1,2025-02-10,baseline,4,', 'E1,2025-02-20,unscheduled,2.5,past straight') },
    'assessments.csv, line 3: date "2025-02-20" finds the foot corrected 10 days after the first fitting, before any checkup; allowed: a checkup on or before the day of correction',
  ],
  [
    'checkup-interval',
    'warning',
    { assessments: rows(VISITS, 'E1,2025-02-24,checkup,4,', 'E1,2025-05-06,checkup,3,') },
    'assessments.csv, line 3: date "2025-05-06" is 71 days after the checkup on line 2; allowed: 3 to 70 days between checkups',
  ],
  [
    'checkup-interval',
    'warning',
    { assessments: rows(VISITS, 'E1,2025-02-25,checkup,4,', 'E1,2025-02-24,checkup,4,') },
    'assessments.csv, line 2: date "2025-02-25" is 1 day after the checkup on line 3; allowed: 3 to 70 days between checkups',
  ],
  [
    'wear-after-end',
    'warning',
    { wear: rows(WEAR, 'E1,2025-06-01,diary,20', 'E1,2025-06-02,diary,20') },
    'wear.csv, line 3: date "2025-06-02" is after the end of therapy; allowed: a date up to 2025-06-01, the end_date of the episode',
  ],
  [
    'wear-far-above-prescribed',
    'warning',
    {
      phases: rows(PHASES, 'E1,2025-02-10,2025-03-09,24', 'E1,2025-03-10,,15'),
      wear: rows(WEAR, 'E1,2025-03-09,sensor,23.5', 'E1,2025-03-10,sensor,21', 'E1,2025-03-11,sensor,21.25'),
    },
    'wear.csv, line 4: hours_worn "21.25" is far above the 15 hours prescribed for the day; allowed: up to 21 hours',
  ],
  [
    'same-in-both-feet',
    'warning',
    {
      episodes: BOTH_FEET,
      assessments: rows(
        VISITS,
        ...VISIT_DAYS.map((day, i) => `E2,${day},${i === 0 ? 'baseline' : 'checkup'},3.5,to straight`),
        ...VISIT_DAYS.map((day, i) => `E1,${day},${i === 0 ? 'baseline' : 'checkup'},3.5,to straight`),
      ),
    },
    'assessments.csv, line 7: this row and those that follow for the foot are the same as for the other foot of the infant from line 2 on (5 rows); allowed: rows of its own for each foot',
  ],
  [
    'same-in-both-feet',
    'warning',
    {
      episodes: BOTH_FEET,
      wear: rows(
        WEAR,
        ...Array.from({ length: 14 }, (_, i) => `E1,${march(i + 1)},sensor,${20 + (i % 7) / 10}`),
        ...Array.from({ length: 14 }, (_, i) => `E2,${march(i + 1)},sensor,${20 + (i % 7) / 10}`),
      ),
    },
    'wear.csv, line 16: this row and those that follow for the foot are the same as for the other foot of the infant from line 2 on (14 rows); allowed: rows of its own for each foot',
  ],
  [
    'digit-preference',
    'warning',
    {
      wear: rows(
        WEAR,
        // 75 whole numbers and 25 halves, where steps of half an hour would give as many of each.
        ...Array.from({ length: 100 }, (_, i) => {
          const day = new Date(Date.UTC(2025, 1, 12 + i)).toISOString().slice(0, 10);
          return `E1,${day},diary,${i % 4 === 0 ? 18.5 : 19}`;
        }),
      ),
    },
    'wear.csv: hours_worn of source diary is a whole number in 75 of 100 rows (75 %), where its steps would give 50 %; allowed: hours as they were, not rounded',
  ],
];

export const OF_PRIVACY: readonly Case[] = [
  [
    'identifying-column',
    'refused',
    { wear: rows(`${WEAR},Mother's phone`, 'E1,2025-02-11,diary,20,') },
    "wear.csv, line 1: Mother's phone looks by its header like a column of phone numbers, so it was not read; allowed: no column that identifies a person or holds free text",
  ],
  [
    'identifying-column',
    'refused',
    { wear: rows(`${WEAR},x7`, 'E1,2025-02-11,diary,20,Ann Example', 'E1,2025-02-12,diary,20,Bob Sample') },
    'wear.csv, line 1: x7 looks by its values like a column of names, so it was not read; allowed: no column that identifies a person or holds free text',
  ],
  [
    'identifying-codes',
    'warning',
    {
      episodes: rows(
        'episode_id,infant_id,site_id,foot,age_at_start_days,start_date',
        'E1,9434765919,North,left,60,2025-02-10',
        'E2,4010232137,North,left,60,2025-02-10',
      ),
    },
    'episodes.csv, line 1: infant_id holds what looks like health-service numbers; allowed: pseudonymous codes, such as "forefoot pseudonymise" makes',
  ],
  [
    'identifying-codes',
    'warning',
    {
      episodes: rows(
        'episode_id,infant_id,site_id,foot,age_at_start_days,start_date',
        'E1,JunoE,North,left,60,2025-02-10',
        'E2,Noor,North,left,60,2025-02-10',
      ),
    },
    'episodes.csv, line 1: infant_id holds what looks like names; allowed: pseudonymous codes, such as "forefoot pseudonymise" makes',
  ],
  [
    'not-a-code',
    'refused',
    {
      episodes: rows(
        'episode_id,infant_id,site_id,foot,age_at_start_days,start_date',
        'E1,I1,9434765919,left,60,2025-02-10',
      ),
    },
    'episodes.csv, line 2: site_id (hidden) is not a code; allowed: a code of 1 to 40 letters, digits, dots, hyphens or underscores',
  ],
  [
    'unknown-episode',
    'refused',
    { wear: rows(WEAR, 'Annabel,2025-02-11,diary,20') },
    'wear.csv, line 2: episode_id (hidden) is not in episodes.csv; allowed: an episode_id of an accepted row of episodes.csv',
  ],
  [
    'not-an-allowed-word',
    'refused',
    { wear: rows(WEAR, 'E1,2025-02-11,Annabel,20') },
    'wear.csv, line 2: source (hidden) is not an allowed word; allowed: sensor, diary, recall',
  ],
  [
    'too-many-columns',
    'refused',
    { wear: `${WEAR}${',x'.repeat(16_381)}` },
    'wear.csv, line 1: the header has 16385 columns, so every row is refused; allowed: up to 16384 columns',
  ],
];
