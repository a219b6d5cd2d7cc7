import { interner } from '../coded-column.ts';
import type { Field, Table } from '../dictionary/field.ts';
import { MISSING, NOT_OF_TYPE, OUT_OF_RANGE, valueReader } from '../reading/values.ts';
import { identifyingValue } from './identifying-value.ts';

/** Rewrites the rows of one file, its header first, without what identifies a person. */
export interface RowPseudonymiser {
  header(cells: readonly string[]): readonly string[];
  row(cells: readonly string[]): readonly string[];
  /** Values left blank so far. */
  blanked(): number;
  /** Columns left out. */
  dropped(): number;
}

/** What each code is of: the codes of assessors and clinicians are told apart by nothing but the person. */
const CODES: Readonly<Record<string, string>> = {
  episode_id: 'e',
  infant_id: 'i',
  site_id: 's',
  clinician_id: 'c',
  assessor_id: 'c',
};

/** @param codes makes the code for a text, by what it is of */
export function pseudonymiser(table: Table, codes: (kind: string, text: string) => string): RowPseudonymiser {
  const read = table.fields.map(field => valueReader(field, interner()));
  const kept = table.fields.map((field, k) => ({ field, k })).filter(({ field }) => field.dropped !== true);
  let places: readonly number[] = [];
  let width = 0;
  let blanked = 0;
  let dropped = 0;

  const allowed = (field: Field, k: number, text: string): boolean => {
    const value = read[k]?.(text) ?? NOT_OF_TYPE;
    if (value === NOT_OF_TYPE || identifyingValue(text) !== undefined) return false;
    // A long number that no field can hold may be that of a phone.
    return value !== OUT_OF_RANGE || text.length <= 6 || field.type === 'date';
  };
  const valueAt = (cells: readonly string[], k: number): number => {
    const text = (cells[places[k] ?? -1] ?? '').trim();
    return text === '' ? MISSING : (read[k]?.(text) ?? MISSING);
  };
  const placeOf = (name: string): number => table.fields.findIndex(field => field.name === name);
  const ageFrom = (cells: readonly string[]): string => {
    const [birth, start] = [valueAt(cells, placeOf('birth_date')), valueAt(cells, placeOf('start_date'))];
    return birth > OUT_OF_RANGE && start > OUT_OF_RANGE && start >= birth ? String(start - birth) : '';
  };

  return {
    header(cells) {
      const names = cells.map(cell => cell.trim());
      width = names.length;
      places = table.fields.map(field => names.indexOf(field.name));
      const known = new Set(table.fields.filter(field => field.dropped !== true).map(field => field.name));
      dropped = names.filter(name => !known.has(name)).length;
      return kept.map(({ field }) => field.name);
    },
    row(cells) {
      // In a row of another width a value may stand in the column of another field.
      const aligned = cells.length === width;
      return kept.map(({ field, k }) => {
        const text = aligned ? (cells[places[k] ?? -1] ?? '').trim() : '';
        if (field.name === 'age_at_start_days' && text === '') return aligned ? ageFrom(cells) : '';
        if (text === '') return '';
        const kind = CODES[field.name];
        if (kind !== undefined) return codes(kind, text);
        if (allowed(field, k, text)) return text;
        blanked++;
        return '';
      });
    },
    blanked: () => blanked,
    dropped: () => dropped,
  };
}
