import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { ProblemKind } from '../../src/records/problems/kinds.ts';
import { PROBLEM_LABELS } from '../../src/records/problems/kinds.ts';
import { changedWhileRead, noSuchFolder, notUtf8, symbolicLink } from '../../src/records/problems/files.ts';
import type { ExportTexts } from '../../src/records/reading/read-text.ts';
import { readExportFromText } from '../../src/records/reading/read-text.ts';
import type { Problem } from '../../src/records/records.ts';
import { UnusableExport } from '../../src/records/unusable-export.ts';
import { OF_CONSISTENCY, OF_PRIVACY } from './problem-cases.ts';

const CODE = 'a code of 1 to 40 letters, digits, dots, hyphens or underscores';
const DATE = 'a calendar date such as 2025-03-09, from 1990-01-01 to 2099-12-31';

const EPISODE_HEADER =
  'episode_id,infant_id,site_id,foot,age_at_start_days,birth_date,start_date,end_date,end_reason';
const VISIT_HEADER =
  'episode_id,date,assessor_id,kind,bisector_position,bisector_angle_degrees,medial_crease';
const PHASE_HEADER = 'episode_id,start_date,end_date,prescribed_hours';
const WEAR_HEADER = 'episode_id,date,source,hours_worn';
const EVENT_HEADER = 'episode_id,date,kind,review_date';

/** E1: born 2024-12-12, first fitting 2025-02-10, finished 2025-06-01. E2: in therapy from 2025-03-01. */
const EPISODES = [
  EPISODE_HEADER,
  'E2,I2,North,right,80,,2025-03-01,,',
  'E1,I1,North,left,60,,2025-02-10,2025-06-01,finished',
].join('\n');

const NO_ROWS = {
  assessments: VISIT_HEADER,
  phases: PHASE_HEADER,
  wear: WEAR_HEADER,
  events: EVENT_HEADER,
};

function problemsIn(texts: ExportTexts): readonly Problem[] {
  try {
    return readExportFromText({ episodes: EPISODES, ...NO_ROWS, ...texts }).problems;
  } catch (error) {
    if (error instanceof UnusableExport) return error.problems;
    throw error;
  }
}

const episodes = (...rows: readonly string[]) => ({ episodes: [EPISODE_HEADER, ...rows].join('\n') });
const visits = (...rows: readonly string[]) => ({ assessments: [VISIT_HEADER, ...rows].join('\n') });
const phases = (...rows: readonly string[]) => ({ phases: [PHASE_HEADER, ...rows].join('\n') });
const wear = (...rows: readonly string[]) => ({ wear: [WEAR_HEADER, ...rows].join('\n') });
const events = (...rows: readonly string[]) => ({ events: [EVENT_HEADER, ...rows].join('\n') });

type Case = readonly [ProblemKind, Problem['severity'], ExportTexts, string];

/** Kinds that no text alone can have; folders and mappings are tested for them. */
const ELSEWHERE: readonly ProblemKind[] = [
  'missing-file',
  'missing-table',
  'misnamed-file',
  'no-such-folder',
  'not-utf-8',
  'symbolic-link',
  'changed-while-read',
  'changed-since-set-aside',
  'fewer-rows-back',
  'bad-set-aside',
  'not-json',
  'unreadable-workbook',
  'not-in-encoding',
  'missing-source',
];

const OF_FILES: readonly Case[] = [
  [
    'empty-file',
    'refused',
    { episodes: '\n' },
    'episodes.csv: is empty; allowed: a header line with the names of the columns',
  ],
  [
    'empty-file',
    'warning',
    { wear: '' },
    'wear.csv: is empty; allowed: a header line with the names of the columns',
  ],
  [
    'no-known-column',
    'refused',
    { episodes: 'Patient,Side\n1,left' },
    'episodes.csv, line 1: the header has none of the required columns; allowed: the columns that "forefoot dictionary" lists, spelled like them, separated by comma, semicolon or tab; "forefoot map" drafts a mapping for others',
  ],
  [
    'missing-column',
    'refused',
    { wear: 'episode_id,date,hours_worn\nE1,2025-02-11,20' },
    'wear.csv, line 1: source is missing from the header, so every row is refused; allowed: one column of that name',
  ],
  [
    'duplicate-header',
    'refused',
    { wear: 'episode_id,date,source,hours_worn,date\nE1,2025-02-11,diary,20,2025-02-12' },
    'wear.csv, line 1: date stands in the header more than once, so every row is refused; allowed: one column of that name',
  ],
  [
    'unreadable-rest',
    'refused',
    wear('E1,2025-02-11,diary,20', 'E1,2025-02-12,"diary,20', 'E1,2025-02-13,diary,20'),
    'wear.csv, line 3: a quotation mark is opened and never closed, so nothing from here to the end was read (it counts as one row); allowed: quotation marks in pairs',
  ],
  [
    'unreadable-rest',
    'refused',
    wear(`E1,2025-02-11,${'x'.repeat(1_100_000)},20`, 'E1,2025-02-13,diary,20'),
    'wear.csv, line 2: the row is longer than 1 MiB, so nothing from here to the end was read (it counts as one row); allowed: rows of up to 1 MiB',
  ],
  [
    'bad-description',
    'refused',
    { description: 'cut_off: 30.6.2025' },
    'export.yaml: cut_off "30.6.2025" cannot be used and is left out; allowed: a calendar date such as 2025-03-09',
  ],
  [
    'bad-description',
    'refused',
    { description: 'clinic: North' },
    'export.yaml: clinic cannot be used and is left out; allowed: the fields service, cut_off, exported_at',
  ],
  [
    'bad-description',
    'refused',
    { description: '- a\n- b' },
    'export.yaml: cannot be used and is left out; allowed: YAML with the fields service, cut_off, exported_at',
  ],
  [
    'bad-description',
    'refused',
    { description: 'service: [North]' },
    'export.yaml: service cannot be used and is left out; allowed: the name of the service, one line of up to 120 characters',
  ],
  [
    'bad-description',
    'refused',
    { description: 'exported_at: 1/7/2025' },
    'export.yaml: exported_at "1/7/2025" cannot be used and is left out; allowed: a date or date and time such as 2025-03-09T08:30:00Z',
  ],
];

const OF_CELLS: readonly Case[] = [
  [
    'wrong-number-of-cells',
    'refused',
    wear('E1,2025-02-11,diary,20,,'),
    'wear.csv, line 2: the row has 6 cells, the header has 4; allowed: as many cells as the header has',
  ],
  [
    'wrong-number-of-cells',
    'refused',
    wear('E1'),
    'wear.csv, line 2: the row has 1 cell, the header has 4; allowed: as many cells as the header has',
  ],
  [
    'missing-value',
    'refused',
    wear('E1,2025-02-11, ,20'),
    'wear.csv, line 2: source is blank; allowed: sensor, diary, recall',
  ],
  [
    'not-a-code',
    'refused',
    wear('Ann Example,2025-02-11,diary,20'),
    `wear.csv, line 2: episode_id (hidden) is not a code; allowed: ${CODE}`,
  ],
  [
    'not-a-date',
    'refused',
    wear('E1,2025-02-30,diary,20'),
    `wear.csv, line 2: date "2025-02-30" is not a date; allowed: ${DATE}`,
  ],
  [
    'not-a-date',
    'refused',
    episodes('E1,I1,North,left,,3 May 2024,2025-02-10,,'),
    `episodes.csv, line 2: birth_date (hidden) is not a date; allowed: ${DATE}`,
  ],
  [
    'not-a-whole-number',
    'refused',
    episodes('E1,I1,North,left,60.5,,2025-02-10,,'),
    'episodes.csv, line 2: age_at_start_days "60.5" is not a whole number; allowed: a whole number from 0 to 1500',
  ],
  [
    'not-a-number',
    'refused',
    wear('E1,2025-02-11,diary,1e1'),
    'wear.csv, line 2: hours_worn "1e1" is not a number; allowed: a number from 0 to 24',
  ],
  [
    'not-yes-or-no',
    'refused',
    visits('E1,2025-02-11,,checkup,,,Yes'),
    'assessments.csv, line 2: medial_crease "Yes" is neither yes nor no; allowed: yes, no',
  ],
  [
    'not-an-allowed-word',
    'refused',
    wear('E1,2025-02-11,diary\u0007,20'),
    'wear.csv, line 2: source "diary\\u0007" is not an allowed word; allowed: sensor, diary, recall',
  ],
  [
    'out-of-range',
    'refused',
    wear('E1,2025-02-11,diary,24.5'),
    'wear.csv, line 2: hours_worn "24.5" is not within the 24 hours of a day; allowed: a number from 0 to 24',
  ],
  [
    'out-of-range',
    'refused',
    visits('E1,2025-02-11,,checkup,2.7,,'),
    'assessments.csv, line 2: bisector_position "2.7" is out of range; allowed: 2, 2.5, 3, 3.5, 4, 4.5, 5',
  ],
  [
    'out-of-range',
    'refused',
    phases('E1,2025-02-10,,0'),
    'phases.csv, line 2: prescribed_hours "0" is out of range; allowed: a number over 0, up to 24',
  ],
  [
    'out-of-range',
    'refused',
    wear('E1,0205-02-11,diary,20'),
    `wear.csv, line 2: date "0205-02-11" is out of range; allowed: ${DATE}`,
  ],
  [
    'after-cut-off',
    'refused',
    { description: 'cut_off: 2025-06-30', ...wear('E2,2025-07-01,diary,20') },
    'wear.csv, line 2: date "2025-07-01" is after the data cut-off of export.yaml; allowed: a date up to 2025-06-30',
  ],
];

const OF_EPISODES: readonly Case[] = [
  [
    'age-and-birth-date-missing',
    'refused',
    episodes('E1,I1,North,left,,,2025-02-10,,'),
    'episodes.csv, line 2: age_at_start_days and birth_date are both blank; allowed: one of the two filled in',
  ],
  [
    'age-disagrees-with-birth-date',
    'refused',
    episodes('E1,I1,North,left,61,2024-12-12,2025-02-10,,'),
    'episodes.csv, line 2: age_at_start_days "61" does not agree with birth_date and start_date; allowed: the days from birth to first fitting, or a blank in one of the two',
  ],
  [
    'age-out-of-range',
    'refused',
    episodes('E1,I1,North,left,,2025-02-11,2025-02-10,,'),
    'episodes.csv, line 2: birth_date (hidden) gives an age at first fitting that is out of range; allowed: a birth 0 to 1500 days before start_date',
  ],
  [
    'end-before-start',
    'refused',
    episodes('E1,I1,North,left,60,,2025-02-10,2025-02-09,finished'),
    'episodes.csv, line 2: end_date "2025-02-09" is before the start; allowed: a date from 2025-02-10, the start_date of the row',
  ],
  [
    'end-without-reason',
    'refused',
    episodes('E1,I1,North,left,60,,2025-02-10,2025-06-01,'),
    'episodes.csv, line 2: end_reason is blank although end_date is 2025-06-01; allowed: finished, referred for casting, referred for surgery, withdrawn, moved away, lost to follow-up',
  ],
  [
    'reason-without-end',
    'refused',
    episodes('E1,I1,North,left,60,,2025-02-10,,moved away'),
    'episodes.csv, line 2: end_date is blank although end_reason is "moved away"; allowed: the last day of therapy, or a blank end_reason',
  ],
  [
    'before-birth',
    'refused',
    {
      episodes:
        'episode_id,infant_id,site_id,foot,age_at_start_days,referral_date,start_date\nE1,I1,North,left,60,2024-12-11,2025-02-10',
    },
    'episodes.csv, line 2: referral_date "2024-12-11" is before the birth of the infant; allowed: a date from the day of birth',
  ],
  [
    'referral-after-first-fitting',
    'warning',
    {
      episodes:
        'episode_id,infant_id,site_id,foot,age_at_start_days,referral_date,start_date\nE1,I1,North,left,60,2025-02-11,2025-02-10',
    },
    'episodes.csv, line 2: referral_date "2025-02-11" is after the first fitting; allowed: a date up to 2025-02-10, the start_date of the episode',
  ],
  [
    'duplicate-key',
    'refused',
    episodes('E1,I1,North,left,60,,2025-02-10,,', 'E1,I9,North,right,60,,2025-02-10,,'),
    'episodes.csv, line 3: episode_id is the same as on line 2; allowed: one row for each',
  ],
  [
    'overlapping-episodes',
    'refused',
    episodes(
      'E9,I1,North,left,90,,2025-03-12,,',
      'E1,I1,North,left,60,,2025-02-10,2025-03-13,withdrawn',
      'E2,I1,North,right,60,,2025-02-10,,',
    ),
    'episodes.csv, line 2: start_date "2025-03-12" is before the end of the other episode of the same foot (line 3); allowed: one episode of a foot at a time',
  ],
];

const OF_COURSES: readonly Case[] = [
  [
    'unknown-episode',
    'refused',
    wear('E7,2025-02-11,diary,20'),
    'wear.csv, line 2: episode_id "E7" is not in episodes.csv; allowed: an episode_id of an accepted row of episodes.csv',
  ],
  [
    'duplicate-key',
    'refused',
    wear(
      'E1,2025-02-11,diary,20',
      'E1,2025-02-11,sensor,19',
      'E2,2025-03-11,diary,20',
      'E1,2025-02-11,diary,4',
    ),
    'wear.csv, line 5: episode_id + date + source are the same as on line 2; allowed: one row for each',
  ],
  [
    'duplicate-key',
    'refused',
    visits('E1,2025-02-11,,checkup,,,', 'E1,2025-02-11,A1,checkup,,,', 'E1,2025-02-11,,unscheduled,,,'),
    'assessments.csv, line 4: episode_id + date + assessor_id are the same as on line 2; allowed: one row for each',
  ],
  [
    'before-birth',
    'refused',
    visits('E1,2024-12-11,,baseline,,,'),
    'assessments.csv, line 2: date "2024-12-11" is before the birth of the infant; allowed: a date from the day of birth',
  ],
  [
    'before-first-fitting',
    'refused',
    wear('E1,2025-02-09,diary,20'),
    'wear.csv, line 2: date "2025-02-09" is before the first fitting; allowed: a date from 2025-02-10, the start_date of the episode',
  ],
  [
    'before-first-fitting',
    'refused',
    events('E1,2025-02-09,blister,'),
    'events.csv, line 2: date "2025-02-09" is before the first fitting; allowed: a date from 2025-02-10, the start_date of the episode',
  ],
  [
    'before-first-fitting',
    'refused',
    phases('E1,2025-02-09,,24'),
    'phases.csv, line 2: start_date "2025-02-09" is before the first fitting; allowed: a date from 2025-02-10, the start_date of the episode',
  ],
  [
    'visit-before-first-fitting',
    'warning',
    visits('E1,2025-02-09,,checkup,,,', 'E1,2025-02-08,,baseline,,,'),
    'assessments.csv, line 2: kind "checkup" is dated 2025-02-09, before the first fitting; allowed: baseline or unscheduled before 2025-02-10, the start_date of the episode',
  ],
  [
    'visit-after-end',
    'warning',
    visits('E1,2025-06-02,,checkup,,,', 'E1,2025-06-03,,follow-up,,,'),
    'assessments.csv, line 2: kind "checkup" is dated 2025-06-02, after the end of therapy; allowed: discharge, follow-up or unscheduled after 2025-06-01, the end_date of the episode',
  ],
  [
    'review-before-event',
    'refused',
    events('E1,2025-03-01,blister,2025-02-28'),
    'events.csv, line 2: review_date "2025-02-28" is before the event; allowed: a date from 2025-03-01, the date of the event',
  ],
  [
    'end-before-start',
    'refused',
    phases('E1,2025-02-10,2025-02-09,24'),
    'phases.csv, line 2: end_date "2025-02-09" is before the start; allowed: a date from 2025-02-10, the start_date of the row',
  ],
  [
    'hours-not-in-plan',
    'refused',
    phases('E1,2025-02-10,,18'),
    'phases.csv, line 2: prescribed_hours "18" is not a phase of the plan; allowed: 24, 15, 12',
  ],
  [
    'overlapping-phases',
    'refused',
    phases('E1,2025-03-24,,15', 'E1,2025-02-10,2025-03-24,24'),
    'phases.csv, line 2: start_date "2025-03-24" is within the spell on line 3, which ends on 2025-03-24; allowed: spells that do not overlap',
  ],
  [
    'gap-between-phases',
    'warning',
    phases('E1,2025-02-10,2025-03-23,24', 'E1,2025-03-26,,15'),
    'phases.csv, line 3: start_date "2025-03-26" leaves a gap of 2 days after the spell on line 2; allowed: 2025-03-24, the day after the spell before',
  ],
  [
    'gap-between-phases',
    'warning',
    phases('E1,2025-02-10,2025-03-23,24', 'E1,2025-03-25,,15'),
    'phases.csv, line 3: start_date "2025-03-25" leaves a gap of 1 day after the spell on line 2; allowed: 2025-03-24, the day after the spell before',
  ],
  [
    'phase-without-end',
    'warning',
    phases('E1,2025-02-10,,24', 'E1,2025-03-25,,15'),
    'phases.csv, line 2: end_date is blank although another spell follows (line 3); allowed: 2025-03-24, the day before the next spell starts',
  ],
  [
    'step-skips-a-phase',
    'warning',
    phases('E1,2025-02-10,2025-03-23,24', 'E1,2025-03-24,2025-04-20,12', 'E1,2025-04-21,,24'),
    'phases.csv, line 3: prescribed_hours "12" follows 24 and skips 15; allowed: a step down to the next phase of the plan',
  ],
];

describe('a problem of each kind', () => {
  it.each([...OF_FILES, ...OF_CELLS, ...OF_EPISODES, ...OF_COURSES, ...OF_CONSISTENCY, ...OF_PRIVACY])(
    '%s (%s) %#: stands alone and says what is wrong',
    (kind, severity, texts, message) => {
      const found = problemsIn(texts).map(problem => [problem.kind, problem.severity, problem.message]);
      expect(found).toEqual([[kind, severity, message]]);
    },
  );

  it('missing-file and missing-table: files that are not in the export', () => {
    const { assessments, wear, events } = NO_ROWS;
    expect(
      readExportFromText({ episodes: EPISODES, assessments, wear, events }).problems.map(
        ({ message }) => message,
      ),
    ).toEqual([
      'phases.csv: is not in the export, so the table is taken as empty; allowed: a file of that name',
    ]);
    expect(() => readExportFromText({ wear })).toThrow(
      'episodes.csv: is not in the export; allowed: a file of that name, or a mapping of the files that are there ("forefoot map" drafts one)',
    );
  });

  it('no-such-folder and not-utf-8: met in folders alone', () => {
    expect(noSuchFolder('here').message).toBe(
      'here: is not a folder; allowed: a folder with episodes.csv in it',
    );
    expect(notUtf8('wear.csv').message).toBe(
      'wear.csv: is not text in UTF-8, so none of it was read (it counts as one row); allowed: UTF-8, with or without a byte order mark; "forefoot map" drafts a mapping for other encodings',
    );
    expect(symbolicLink('wear.csv').message).toBe(
      'wear.csv: is a symbolic link, which is not followed; allowed: the file itself',
    );
    expect(changedWhileRead('wear.csv').message).toBe(
      'wear.csv: was changed while it was being read; allowed: a file that nothing writes to',
    );
  });

  it('is described in docs/checks.md with its severity', () => {
    const page = readFileSync(new URL('../../docs/checks.md', import.meta.url), 'utf8');
    const described = [...page.matchAll(/^\| `([a-z0-9-]+)` \|/gm)].map(([, kind]) => kind ?? '');
    expect(described.sort()).toEqual(Object.keys(PROBLEM_LABELS).sort());
    for (const [kind, severity] of [
      ...OF_FILES,
      ...OF_CELLS,
      ...OF_EPISODES,
      ...OF_COURSES,
      ...OF_CONSISTENCY,
      ...OF_PRIVACY,
    ]) {
      const line = page.split('\n').find(text => text.startsWith(`| \`${kind}\` |`));
      expect(line).toContain(severity);
    }
  });

  it('is tested for every kind there is', () => {
    const tested = new Set<string>(
      [...OF_FILES, ...OF_CELLS, ...OF_EPISODES, ...OF_COURSES, ...OF_CONSISTENCY, ...OF_PRIVACY].map(
        ([kind]) => kind,
      ),
    );
    for (const kind of ELSEWHERE) tested.add(kind);
    expect([...tested].sort()).toEqual(Object.keys(PROBLEM_LABELS).sort());
  });
});

describe('problems together', () => {
  it('names every fault of a row, and counts the row once', () => {
    const records = readExportFromText({ episodes: EPISODES, ...NO_ROWS, ...wear('E1,2025-02-30,guess,99') });
    expect(records.problems.map(({ field }) => field)).toEqual(['date', 'source', 'hours_worn']);
    expect(records.counts.wear).toMatchObject({ read: 1, accepted: 0, refused: 1 });
    expect([...records.refusedLines.wear]).toEqual([2, 2]);
  });

  it('refuses the rows of an episode that was itself refused, and says so', () => {
    const texts = episodes(
      'E1,I1,North,left,60,,2025-02-10,2025-02-01,finished',
      'E2,I2,North,left,60,,2025-02-10,,',
    );
    const records = readExportFromText({
      ...texts,
      ...NO_ROWS,
      ...wear('E2,2025-02-11,diary,20', 'E1,2025-02-11,diary,20'),
    });
    expect(records.problems.map(({ message }) => message)).toEqual([
      'episodes.csv, line 2: end_date "2025-02-01" is before the start; allowed: a date from 2025-02-10, the start_date of the row',
      'wear.csv, line 3: episode_id "E1" belongs to an episode that was itself refused (episodes.csv, line 2); allowed: an episode_id of an accepted row of episodes.csv',
    ]);
    expect(records.counts.wear).toMatchObject({ read: 2, accepted: 1, refused: 1 });
  });

  it('keeps the rows of an episode that stands twice, one of the two being accepted', () => {
    const texts = episodes('E1,I1,North,left,,,2025-02-10,,', 'E1,I1,North,left,60,,2025-02-10,,');
    const records = readExportFromText({ ...texts, ...NO_ROWS, ...wear('E1,2025-02-11,diary,20') });
    expect(records.problems.map(({ kind }) => kind)).toEqual(['age-and-birth-date-missing']);
    expect(records.counts.wear.accepted).toBe(1);
  });

  it('lets an episode start on the day the one before it ended', () => {
    const texts = episodes(
      'E9,I1,North,left,90,,2025-03-12,,',
      'E1,I1,North,left,60,,2025-02-10,2025-03-12,withdrawn',
    );
    expect(problemsIn(texts)).toEqual([]);
  });

  it('cuts a long value and keeps it on one line', () => {
    const [problem] = problemsIn(wear(`E1,2025-02-11,"diary${'\t'.repeat(80)}.",20`));
    expect(problem?.value).toBe(`diary${'\\u0009'.repeat(55)}…`);
  });

  it('keeps 10,000 problems of a kind and counts all', () => {
    const rows = Array.from({ length: 10_050 }, () => 'E1,2025-02-11,guess,20');
    const records = readExportFromText({ episodes: EPISODES, ...NO_ROWS, ...wear(...rows) });
    expect(records.problems).toHaveLength(10_000);
    expect(records.problemCounts).toEqual([
      { file: 'wear.csv', kind: 'not-an-allowed-word', severity: 'refused', count: 10_050 },
    ]);
    expect(records.counts.wear.refused).toBe(10_050);
  });
});
