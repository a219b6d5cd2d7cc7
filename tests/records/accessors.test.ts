import { describe, expect, it } from 'vitest';
import {
  assessmentRows,
  episodeRows,
  eventRows,
  phaseRows,
  wearColumns,
} from '../../src/records/accessors.ts';
import { recordsFromRows } from '../../src/records/from-rows.ts';

const episode = {
  episode_id: 'B-2',
  infant_id: 'I-1',
  site_id: 'North',
  foot: 'left',
  age_at_start_days: 60,
  start_date: 20_000,
} as const;

const records = recordsFromRows({
  episodes: [episode, { ...episode, episode_id: 'A-1', foot: 'right' }],
  wear: [
    { episode_id: 'B-2', date: 20_004, source: 'diary', hours_worn: 20 },
    { episode_id: 'A-1', date: 20_003, source: 'recall', hours_worn: 7.5 },
    { episode_id: 'B-2', date: 20_003, source: 'sensor', hours_worn: 0 },
  ],
});

describe('records made of rows', () => {
  it('hands the rows back in their order, a field left out being undefined', () => {
    expect(episodeRows(records)).toEqual([
      { ...episode, clinician_id: undefined },
      { ...episode, episode_id: 'A-1', foot: 'right' },
    ]);
    expect(Object.keys(episodeRows(records)[0] ?? {})).toContain('teach_back');
    expect([assessmentRows(records), phaseRows(records), eventRows(records)]).toEqual([[], [], []]);
  });

  it('takes the latest date in any row as the cut-off unless one is given', () => {
    expect(records.cutOff).toBe(20_004);
    expect(records.cutOffGiven).toBe(false);
    expect(recordsFromRows({ episodes: [episode], cutOff: 20_100 }).cutOff).toBe(20_100);
  });
});

describe('the wear log by column', () => {
  const expected = {
    episodes: ['B-2', 'A-1'],
    episode: Int32Array.of(0, 1, 0),
    date: Int32Array.of(20_004, 20_003, 20_003),
    source: Uint8Array.of(1, 2, 0),
    hours: Float64Array.of(20, 7.5, 0),
  };

  it('hands out the arrays of the table', () => {
    expect(wearColumns(records)).toEqual(expected);
  });

  it('encodes a sorted and filtered table afresh', () => {
    const wear = records.tables.wear.filter((d: { hours_worn: number }) => d.hours_worn > 0).orderby('date');
    expect(wearColumns({ ...records, tables: { ...records.tables, wear } })).toEqual({
      episodes: ['A-1', 'B-2'],
      episode: Int32Array.of(0, 1),
      date: Int32Array.of(20_003, 20_004),
      source: Uint8Array.of(2, 1),
      hours: Float64Array.of(7.5, 20),
    });
  });
});
