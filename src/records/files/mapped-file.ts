import { DICTIONARY } from '../dictionary.ts';
import type { PlainBlock } from '../mapping/blocks.ts';
import type { CompiledBlock } from '../mapping/compile.ts';
import { compileBlock } from '../mapping/compile.ts';
import type { Mapping, SourceSpec } from '../mapping/mapping.ts';
import { columnWatch } from '../privacy/column-watch.ts';
import { identifyingHeader } from '../privacy/identifying-header.ts';
import type { ProblemCollector } from '../problems/collector.ts';
import {
  duplicateHeader,
  emptyFile,
  identifyingColumn,
  missingColumn,
  wrongNumberOfCells,
} from '../problems/files.ts';
import { shownColumn } from '../reading/header.ts';
import type { MappedPlace, TableReader } from '../reading/read-table.ts';
import { LAST_LINE } from '../reading/read-table.ts';
import type { ReadSource } from '../reading/source-files.ts';
import type { TableName } from '../records.ts';
import { lineMarks, MARK } from './line-marks.ts';
import type { SourceRow } from './source-row.ts';
import type { OpenSource } from './source-rows.ts';

/** A file that tables are made of. */
export interface MappedFile {
  readonly label: string;
  readonly sha256: string;
  /** Goes through the file for one table, with the blocks that make its rows. */
  read(
    table: TableName,
    blocks: readonly PlainBlock[],
    reader: TableReader,
    problems: ProblemCollector,
    onProgress: (file: string, rows: number) => void,
  ): Promise<void>;
  /** Names the columns that no table used and that may identify a person. */
  tellColumns(problems: ProblemCollector): void;
  source(): ReadSource;
}

const ROWS_BETWEEN_PROGRESS = 65_536;

export function mappedFile(
  { path, label }: { readonly path: string; readonly label: string },
  opened: OpenSource,
  isSetAside: (line: number) => boolean,
  values: SourceSpec & NonNullable<Mapping['values']>,
  isCorrection: boolean,
): MappedFile {
  const { dates = 'year-month-day', decimal = 'point', missing = [], ignore = [] } = values;
  const writing = { dates, decimal, missing };
  const padded = opened.sheet !== undefined || isCorrection;
  const marks = lineMarks();
  const usedPlaces = new Set<number>();
  const told = new Set<string>();
  let header: SourceRow | undefined;
  let watch = columnWatch([]);
  let passes = 0;

  return {
    label,
    sha256: opened.sha256,
    async read(table, blocks, reader, problems, onProgress) {
      let compiled: readonly CompiledBlock[] = [];
      let usable = false;
      const first = passes === 0;
      let rows = 0;
      const once = (key: string, tell: () => void): void => {
        if (!told.has(key)) tell();
        told.add(key);
      };
      const counted = ({ line }: SourceRow): boolean => {
        const aside = isSetAside(line);
        marks.mark(line, aside ? MARK.setAside : MARK.row);
        if (!aside && ++rows % ROWS_BETWEEN_PROGRESS === 0) onProgress(label, rows);
        return !aside;
      };
      const refuse = (place: MappedPlace): void => {
        marks.mark(place.line, MARK.used);
        reader.unmapped(place);
      };

      await opened.read(table, {
        header(given) {
          header = given;
          reader.started();
          compiled = blocks.map(block => compileBlock(DICTIONARY[table], block, given.cells, label, writing));
          for (const block of compiled) for (const place of block.places) usedPlaces.add(place);
          const absent = new Set(compiled.flatMap(block => block.absent));
          const twice = new Set(compiled.flatMap(block => block.ambiguous));
          for (const name of absent) once(name, () => problems.add(missingColumn(label, given.line, name)));
          for (const name of twice) once(name, () => problems.add(duplicateHeader(label, given.line, name)));
          usable = absent.size === 0 && twice.size === 0;
          if (first) watch = columnWatch(given.cells.map((_, place) => place));
        },
        row(given) {
          if (!counted(given)) return;
          const width = header?.cells.length ?? 0;
          const place = { file: compiled[0]?.origin ?? { label, columns: [], allowed: [] }, ...given };
          if (given.cells.length > width || (given.cells.length < width && !padded)) {
            const found = wrongNumberOfCells(label, given.line, given.cells.length, width);
            once(`cells ${given.line}`, () => problems.add(found));
            refuse(place);
            return;
          }
          if (first) watch.look(given.cells);
          if (!usable) {
            refuse(place);
            return;
          }
          for (const block of compiled) {
            const made = block.make(given.cells);
            if (made === undefined) continue;
            marks.mark(given.line, MARK.used);
            reader.mapped(made.texts, made.originals, { ...place, file: block.origin });
          }
        },
        other(given) {
          counted(given);
        },
        badRow(given, why) {
          if (!counted(given)) return;
          once(`row ${given.line}`, () => problems.add(why));
          refuse({ file: { label, columns: [], allowed: [] }, ...given });
        },
        broken(line, why) {
          if (!counted({ cells: [], line, lastLine: LAST_LINE })) return;
          once('broken', () => problems.add(why));
          refuse({ file: { label, columns: [], allowed: [] }, line, lastLine: LAST_LINE });
        },
      });
      if (header === undefined && rows === 0) once('empty', () => problems.add(emptyFile(label, 'refused')));
      passes++;
    },
    tellColumns(problems) {
      if (opened.sheet === undefined && header?.line === 0) return;
      const byValues = new Map(watch.found());
      for (const [place, cell] of (header?.cells ?? []).entries()) {
        const name = cell.trim();
        if (usedPlaces.has(place) || name === '' || ignore.includes(name)) continue;
        const byHeader = identifyingHeader(name);
        const what = byHeader ?? byValues.get(place);
        if (what === undefined) continue;
        const by = byHeader === undefined ? 'values' : 'header';
        problems.add(identifyingColumn(label, header?.line ?? 1, shownColumn(name), what, by));
      }
    },
    source() {
      const [unused, used] = [marks.count(MARK.row), marks.count(MARK.used)];
      return {
        file: label,
        path,
        sheet: opened.sheet,
        sha256: opened.sha256,
        header: header === undefined || header.line === 0 ? undefined : [header.line, header.lastLine],
        rows: unused + used,
        setAside: marks.count(MARK.setAside),
        unused,
      };
    },
  };
}
