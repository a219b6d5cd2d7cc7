import type { TableName } from '../records/records.ts';
import { fromIsoDate } from './calendar.ts';
import type { Flaw, FlawContext, FlawedRow } from './flaw.ts';
import { ASSESSMENT_FLAWS } from './flaws-assessments.ts';
import { EPISODE_FLAWS } from './flaws-episodes.ts';
import { PHASE_FLAWS } from './flaws-phases.ts';
import { EVENT_FLAWS, WEAR_FLAWS } from './flaws-wear-events.ts';
import type { Stream } from './streams.ts';
import { COLUMNS, type TableLines } from './tables.ts';

/** A flaw as planted: where a check must find it, and under what name. */
export interface PlantedFlaw {
  readonly file: string;
  /** Line in the file, the header being line 1. */
  readonly line: number;
  /** Empty where the whole row is at fault. */
  readonly field: string;
  readonly kind: string;
}

const FLAWS: readonly (readonly [TableName, readonly Flaw[]])[] = [
  ['episodes', EPISODE_FLAWS],
  ['assessments', ASSESSMENT_FLAWS],
  ['phases', PHASE_FLAWS],
  ['wear', WEAR_FLAWS],
  ['events', EVENT_FLAWS],
];

/** Names of all kinds of flaw that can be planted, by table. */
export function flawKinds(): readonly {
  readonly table: TableName;
  readonly kind: string;
  readonly field: string;
}[] {
  return FLAWS.flatMap(([table, flaws]) => flaws.map(({ kind, field }) => ({ table, kind, field })));
}

function rowOf(columns: readonly string[], cells: string[]): FlawedRow {
  const place = (column: string) => {
    const i = columns.indexOf(column);
    if (i < 0) throw new RangeError(`there is no column ${column}`);
    return i;
  };
  return {
    get: column => cells[place(column)] ?? '',
    set: (column, text) => {
      cells[place(column)] = text;
    },
  };
}

/**
 * Plants data-entry flaws in the lines of an export, so many of each kind, and lists them. An episode whose own row is
 * flawed carries no other flaw, and a table holds at most one flaw an episode, so that each is found by itself.
 * The lines are changed in place.
 *
 * @throws RangeError if the export has too few rows for all of them
 */
export function plantFlaws(
  lines: TableLines,
  eachKind: number,
  cutOff: number,
  random: Stream,
): readonly PlantedFlaw[] {
  const planted: PlantedFlaw[] = [];
  if (eachKind === 0) return planted;
  const cells = (table: TableName) => lines[table].map(line => line.split(','));
  const tables = {
    episodes: cells('episodes'),
    assessments: cells('assessments'),
    phases: cells('phases'),
    wear: cells('wear'),
    events: cells('events'),
  };
  const whole = new Map<string[], string>();
  const episodes = new Map(tables.episodes.map(row => [row[0] ?? '', row]));
  const spoilt = new Set<string>();

  for (const [table, flaws] of FLAWS) {
    const rows = tables[table];
    const columns = COLUMNS[table];
    const count = rows.length;
    const used = new Set(spoilt);
    for (const flaw of flaws) {
      for (let n = 0; n < eachKind; n += 1) {
        const from = random.whole(0, count - 1);
        let done = false;
        for (let k = 0; k < count && !done; k += 1) {
          const i = (from + k) % count;
          const own = rows[i];
          const code = own?.[0] ?? '';
          const episode = episodes.get(code);
          if (!own || !episode || used.has(code)) continue;
          const following = rows[i + 1];
          const context: FlawContext = {
            row: rowOf(columns, own),
            next: following && following[0] === code && i + 1 < count ? rowOf(columns, following) : undefined,
            episode: rowOf(COLUMNS.episodes, episode),
            start: fromIsoDate(episode[COLUMNS.episodes.indexOf('start_date')] ?? ''),
            cutOff,
            append: changes => {
              const copy = [...own];
              for (const [column, text] of Object.entries(changes)) rowOf(columns, copy).set(column, text);
              rows.push(copy);
            },
            replaceLine: text => whole.set(own, text),
          };
          if (!flaw.fits(context)) continue;
          flaw.plant(context);
          used.add(code);
          if (table === 'episodes') spoilt.add(code);
          const line = flaw.found === 'added' ? rows.length + 1 : flaw.found === 'next' ? i + 3 : i + 2;
          planted.push({ file: `${table}.csv`, line, field: flaw.field, kind: flaw.kind });
          done = true;
        }
        if (!done)
          throw new RangeError(
            `too few rows in ${table}.csv to plant "${flaw.kind}" (${flaw.field}); take more feet`,
          );
      }
    }
  }
  for (const [table] of FLAWS) lines[table] = tables[table].map(row => whole.get(row) ?? row.join(','));
  return planted;
}
