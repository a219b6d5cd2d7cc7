import { readFileSync } from 'node:fs';
import type { Mapping } from '../../../src/records/mapping/mapping.ts';
import { readMapping } from '../../../src/records/mapping/read-mapping.ts';
import { CLEAN } from '../files/clean-export.ts';

/** An export to be broken: its files, and the mapping through which it is read, if any. */
export interface Target {
  readonly name: string;
  readonly files: Readonly<Record<string, Buffer>>;
  readonly mapping: Mapping | undefined;
}

const PLAIN = Object.fromEntries(Object.entries(CLEAN).map(([name, text]) => [name, Buffer.from(text)]));
const TABLES = ['episodes', 'assessments', 'phases', 'wear', 'events'];

const block = (from: string, tables: readonly string[]): string =>
  `{${tables.map(table => `${table}: [{from: ${from === '' ? table : from}}]`).join(', ')}}`;

/** The clean export in every format that is read. */
export function targets(): readonly Target[] {
  const csv = `version: 1\nsources: {${TABLES.map(name => `${name}: {file: ${name}.csv}`).join(', ')}}\ntables: ${block('', TABLES)}\n`;
  const wide = `version: 1
values: {dates: day-month-year, decimal: comma}
sources: {all: {file: all.csv, encoding: windows-1252}}
tables:
  episodes: [{from: all, fields: {episode_id: Fall, infant_id: Fall, site_id: {value: N}, foot: {column: Fuß, words: {L: left}}, age_at_start_days: Alter, start_date: Beginn}}]
  wear: [{from: all, repeat: {day: 0..2}, unlessBlank: ['h{day}'], fields: {episode_id: Fall, date: {column: Beginn, plusDays: '{day}'}, source: {value: diary}, hours_worn: 'h{day}'}}]
`;
  const fhir = [
    '{"resourceType":"EpisodeOfCare","id":"E1","patient":{"reference":"Patient/I1"},"managingOrganization":{"reference":"Organization/N"},"period":{"start":"2025-02-10"},"extension":[{"url":"urn:forefoot:foot","valueCode":"left"},{"url":"urn:forefoot:age-at-start-days","valueInteger":60}]}',
    '{"resourceType":"DeviceUseStatement","timingDateTime":"2025-02-12","extension":[{"url":"urn:forefoot:episode","valueReference":{"reference":"EpisodeOfCare/E1"}},{"url":"urn:forefoot:source","valueCode":"diary"},{"url":"urn:forefoot:hours-worn","valueDecimal":20}]}',
    '',
  ].join('\n');
  const workbook = readFileSync(new URL('episodes.xlsx', import.meta.url));
  return [
    { name: 'the layout of the dictionary', files: PLAIN, mapping: undefined },
    { name: 'a mapping of the same', files: PLAIN, mapping: readMapping(csv) },
    {
      name: 'one wide file',
      files: {
        'all.csv': Buffer.from('Fall;Fuß;Alter;Beginn;h0;h1;h2\nE1;L;60;10.02.2025;1,5;;20\n', 'latin1'),
      },
      mapping: readMapping(wide),
    },
    {
      name: 'FHIR resources',
      files: { 'all.ndjson': Buffer.from(fhir) },
      mapping: readMapping(
        `version: 1\nsources: {all: {file: all.ndjson}}\ntables: ${block('all', TABLES)}\n`,
      ),
    },
    {
      name: 'a workbook',
      files: { 'clinic.xlsx': workbook },
      mapping: readMapping(
        `version: 1\nsources: {all: {file: clinic.xlsx, sheet: episodes}}\ntables: ${block('all', ['episodes'])}\n`,
      ),
    },
  ];
}
