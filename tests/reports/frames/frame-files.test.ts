import { tableFromIPC } from '@uwdata/flechette';
import { table } from 'arquero';
import { parse } from 'csv-parse/sync';
import { parquetMetadata, parquetReadObjects } from 'hyparquet';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildCohort, type CohortFrames, cohortFrames, FRAME_DICTIONARY } from '../../../src/cohort/index.ts';
import { defaultPlan } from '../../../src/plan/plan.ts';
import { recordsFromRows } from '../../../src/records/from-rows.ts';
import { frameFiles, type Provenance } from '../../../src/reports/index.ts';
import { sampleCohort } from '../../analyses/sample.ts';

const provenance: Provenance = {
  software: 'forefoot-outcomes',
  version: '0',
  service: 'Ombermoor',
  cutOff: 20_000,
  cutOffGiven: true,
  exportedAt: undefined,
  files: [],
  problems: [],
  planSha256: 'abc',
};

const NAMES = [
  ['feet', 'feet'],
  ['stepDowns', 'step-downs'],
  ['visits', 'visits'],
  ['spells', 'spells'],
  ['wearDays', 'wear-days'],
  ['skinEvents', 'skin-events'],
] as const;

let frames: CohortFrames;
let files: ReturnType<typeof frameFiles>;

beforeAll(async () => {
  frames = cohortFrames(await sampleCohort(defaultPlan()));
  files = frameFiles(frames, provenance);
});

function bytesOf(path: string): Uint8Array {
  const file = files.find(candidate => candidate.path === path);
  if (file === undefined || !('bytes' in file)) throw new Error(`${path} is missing`);
  return file.bytes;
}

function textOf(path: string, from = files): string {
  const file = from.find(candidate => candidate.path === path);
  if (file === undefined || !('text' in file)) throw new Error(`${path} is missing`);
  return file.text;
}

const DAY = 86_400_000;

const rowOf = (name: string, meaning: string): RegExp =>
  new RegExp(`^\\| ${name} \\| .* \\| ${meaning.replaceAll(/[.()]/g, '\\$&')} \\|$`, 'm');

describe('the frame dictionary', () => {
  it('describes every column of every frame, in order', () => {
    for (const [key] of NAMES) {
      expect(FRAME_DICTIONARY[key].columns.map(({ name }) => name)).toEqual(frames[key].columnNames());
    }
    expect(Object.keys(FRAME_DICTIONARY)).toEqual(Object.keys(frames));
  });
});

describe('frames as files', () => {
  it.each(NAMES)('%s as Arrow holds every value of the frame, with its type', (key, name) => {
    const arrow = tableFromIPC(bytesOf(`${name}.arrow`));
    expect(arrow.numRows).toBe(frames[key].numRows());
    expect(arrow.numRows).toBeGreaterThan(100);
    for (const { name: column, type } of FRAME_DICTIONARY[key].columns) {
      const expected = Array.from({ length: arrow.numRows }, (_, row) => {
        const value: unknown = frames[key].get(column, row);
        return type === 'date' && typeof value === 'number' ? value * DAY : (value ?? null);
      });
      expect(Array.from(arrow.getChild(column) ?? []), column).toEqual(expected);
    }
    const typeIds = Object.fromEntries(arrow.schema.fields.map(field => [field.name, field.type.typeId]));
    // Of the Arrow format (Schema.fbs): Int 2, FloatingPoint 3, Utf8 5, Bool 6, Date 8.
    const ofType = { integer: 2, number: 3, text: 5, 'yes/no': 6, date: 8 };
    for (const column of FRAME_DICTIONARY[key].columns) {
      expect(typeIds[column.name], column.name).toBe(ofType[column.type]);
    }
  });

  it.each(NAMES)('%s as Parquet holds every value of the frame, with its type', async (key, name) => {
    const file = bytesOf(`${name}.parquet`).slice().buffer;
    const rows = await parquetReadObjects({ file });
    expect(rows).toHaveLength(frames[key].numRows());
    const { columns } = FRAME_DICTIONARY[key];
    const expected = Array.from({ length: rows.length }, (_, row) =>
      Object.fromEntries(
        columns.map(({ name: column, type }) => {
          const value: unknown = frames[key].get(column, row);
          return [
            column,
            type === 'date' && typeof value === 'number' ? new Date(value * DAY) : (value ?? null),
          ];
        }),
      ),
    );
    expect(rows).toEqual(expected);
    const { schema, created_by: writer } = parquetMetadata(file);
    // Of the Parquet format (parquet.thrift): physical type, and converted type where there is one.
    const ofType = {
      integer: ['INT32', undefined],
      number: ['DOUBLE', undefined],
      text: ['BYTE_ARRAY', 'UTF8'],
      'yes/no': ['BOOLEAN', undefined],
      date: ['INT32', 'DATE'],
    };
    expect(schema.slice(1).map(field => [field.name, field.type, field.converted_type])).toEqual(
      columns.map(column => [column.name, ...ofType[column.type]]),
    );
    expect(writer).toBe('forefoot-outcomes version 0');
  });

  it('have the same bytes when they are written again', () => {
    const again = frameFiles(frames, provenance);
    expect(again).toEqual(files);
  });

  it.each(NAMES)('%s as CSV holds the same rows', (key, name) => {
    const rows = parse<Record<string, string>>(textOf(`${name}.csv`), { columns: true });
    expect(rows).toHaveLength(frames[key].numRows());
    for (const [place, row] of [0, 7, 99].map(at => [at, rows[at]] as const)) {
      for (const { name: column, type } of FRAME_DICTIONARY[key].columns) {
        const value = frames[key].get(column, place) as string | number | boolean | undefined;
        const text =
          type === 'date' && typeof value === 'number'
            ? new Date(value * DAY).toISOString().slice(0, 10)
            : String(value ?? '');
        expect(row?.[column], `${column}, row ${place}`).toBe(text);
      }
    }
  });

  it('say in README.md what every column is, and that the rows are not for publishing', () => {
    const text = textOf('README.md');
    for (const { columns } of Object.values(FRAME_DICTIONARY)) {
      for (const { name, meaning } of columns) expect(text).toMatch(rowOf(name, meaning));
    }
    expect(text).toContain('Data to 2024-10-04');
    expect(text).toContain('do not publish them');
  });

  it('keep their columns for an export without feet', () => {
    const empty = frameFiles(
      cohortFrames(buildCohort(recordsFromRows({ episodes: [] }), defaultPlan())),
      provenance,
    );
    expect(textOf('spells.csv', empty)).toBe('episode_id,start_day,end_day,prescribed_hours\r\n');
    expect(empty.map(({ path }) => path)).toEqual(files.map(({ path }) => path));
    const none = empty.find(({ path }) => path === 'feet.parquet');
    const bytes = none !== undefined && 'bytes' in none ? none.bytes.slice().buffer : new ArrayBuffer(0);
    const { schema, num_rows: rows } = parquetMetadata(bytes);
    expect([schema.length - 1, rows]).toEqual([FRAME_DICTIONARY.feet.columns.length, 0n]);
  });

  it('refuse a value that is not of the type described', () => {
    const spells = table({
      episode_id: ['a'],
      start_day: ['soon'],
      end_day: [1],
      prescribed_hours: [24],
    });
    const broken = { ...frames, spells };
    expect(() => frameFiles(broken, provenance)).toThrow(
      'start_day, row 0: "soon" is not of the type integer',
    );
  });
});
