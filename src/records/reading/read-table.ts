import type { Interner } from '../coded-column.ts';
import { interner } from '../coded-column.ts';
import type { Table } from '../dictionary/field.ts';
import { columnWatch, identifyingAmong } from '../privacy/column-watch.ts';
import type { ColumnWatch } from '../privacy/column-watch.ts';
import { identifyingCode } from '../privacy/identifying-value.ts';
import type { ProblemCollector } from '../problems/collector.ts';
import {
  emptyFile,
  identifyingCodes,
  identifyingColumn,
  unreadableRest,
  wrongNumberOfCells,
} from '../problems/files.ts';
import type { Problem } from '../records.ts';
import { cellsReader } from './cells.ts';
import { growingColumn } from './growing.ts';
import type { Header } from './header.ts';
import { readHeader, shownColumn } from './header.ts';
import { lineBreaks } from './line-breaks.ts';
import type { OriginFile, Origins } from './origins.ts';

/** Codes that stand for one person; sites may bear a name. */
const OF_PERSONS = new Set(['episode_id', 'infant_id', 'clinician_id']);

/** A table as read, row i of the file being row i of every column; a refused row keeps its place. */
export interface ReadTable {
  readonly table: Table;
  readonly rows: number;
  /** First line of each row, or its number where `origins` are given. */
  readonly lines: Int32Array;
  /** 1 where the row is refused. */
  readonly refused: Uint8Array;
  /** Values as values.ts reads them. */
  readonly columns: ReadonlyMap<string, Int32Array | Float64Array>;
  /** The texts of the code columns. */
  readonly codes: ReadonlyMap<string, readonly string[]>;
  readonly extraColumns: readonly string[];
  /** First and last line of the header of the file read last, if it has one. */
  readonly headerLines: readonly [number, number] | undefined;
  /** Last line of the rows that take more than one. */
  readonly lastLines: ReadonlyMap<number, number>;
  readonly origins: Origins | undefined;
}

/** Takes in the rows of one file after the other, header first, and checks each by itself. */
export interface TableReader {
  /** The next row as text cells; rows without any text are passed over. */
  row(cells: readonly string[]): void;
  /** Another file follows, with a header of its own; rows that begin in lines set aside are passed over. */
  nextFile(file: OriginFile, isSetAside: (line: number) => boolean): void;
  /** The header of a file that is read through a mapping was met. */
  started(): void;
  /** A row that a mapping made, a text for each field of the table. */
  mapped(texts: readonly string[], originals: readonly string[], place: MappedPlace): void;
  /** A row that a mapping could not take apart. */
  unmapped(place: MappedPlace): void;
  /** Whatever follows cannot be read; it counts as one refused row. */
  broken(why: 'quote' | 'length' | Problem): void;
  /** All rows were given. */
  end(): ReadTable;
  readonly rowsSoFar: number;
  /** Rows set aside in the file read last. */
  readonly setAside: number;
  readonly headerLines: readonly [number, number] | undefined;
}

export interface MappedPlace {
  readonly file: OriginFile;
  readonly line: number;
  readonly lastLine: number;
}

export interface ReadingContext {
  /** Takes problems of a file. */
  readonly problems: ProblemCollector;
  /** Takes problems of a row; the same, unless rows are numbered. */
  readonly rowProblems: ProblemCollector;
  /** The codes of episodes, shared by all tables. */
  readonly episodeCodes: Interner;
  /** The data cut-off, if one was given. */
  readonly cutOff: number | undefined;
  /** Given where a table is made of several files. */
  readonly origins?: Origins | undefined;
}

/** Stands for the last line of a file. */
export const LAST_LINE = 2_147_483_647;

export function tableReader(table: Table, context: ReadingContext): TableReader {
  const { problems, rowProblems, origins } = context;
  const { fields } = table;
  const codes = new Map<string, Interner>();
  for (const field of fields) {
    if (field.type === 'code') {
      codes.set(field.name, field.name === 'episode_id' ? context.episodeCodes : interner());
    }
  }
  const cells = cellsReader(table, codes, rowProblems, context.cutOff);
  const lines = growingColumn('whole');
  const refused = growingColumn('whole');
  const lastLines = new Map<number, number>();
  const extraColumns: string[] = [];
  let label = table.file;
  let file: OriginFile | undefined;
  let isSetAside: (line: number) => boolean = () => false;
  let setAside = 0;
  let header: Header | undefined;
  let headerNames: readonly string[] = [];
  let watch: ColumnWatch | undefined;
  let headerLines: readonly [number, number] | undefined;
  let line = 1;
  let rows = 0;
  let anyHeader = false;

  /** The number of a row that begins and ends in these lines. */
  const numbered = (at: number, last: number): number => {
    if (origins !== undefined && file !== undefined) return origins.add(file, at, last);
    if (last !== at) lastLines.set(at, last);
    return at;
  };
  const add = (at: number, isRefused: boolean): void => {
    lines.push(at);
    refused.push(isRefused ? 1 : 0);
    rows++;
  };
  const refuse = (at: number): void => {
    cells.blank();
    add(at, true);
  };
  const startRows = (found: Header, names: readonly string[], first: number, last: number): void => {
    header = found;
    headerNames = names;
    headerLines = [first, last];
    anyHeader = true;
    watch = columnWatch(found.unknownPlaces);
    for (const name of found.extraColumns) if (!extraColumns.includes(name)) extraColumns.push(name);
  };
  const endFile = (): void => {
    for (const [place, what] of watch?.found() ?? []) {
      const name = shownColumn(headerNames[place]?.trim() ?? '');
      problems.add(identifyingColumn(label, headerLines?.[0] ?? 1, name, what, 'values'));
    }
    watch = undefined;
  };

  return {
    row(given) {
      const at = line;
      const breaks = lineBreaks(given);
      line += 1 + breaks;
      if (given.every(cell => cell.trim() === '')) return;
      if (header === undefined) {
        const named = label === table.file ? table : { ...table, file: label };
        startRows(readHeader(named, given, problems, at), given, at, at + breaks);
        return;
      }
      if (isSetAside(at)) {
        setAside++;
        return;
      }
      const number = numbered(at, at + breaks);
      if (header.places === undefined) refuse(number);
      else if (given.length !== header.width) {
        rowProblems.add(wrongNumberOfCells(table.file, number, given.length, header.width));
        refuse(number);
      } else {
        watch?.look(given);
        add(number, cells.read(given, number, header.places) > 0);
      }
    },
    nextFile(next, aside) {
      endFile();
      label = next.label;
      file = next;
      isSetAside = aside;
      setAside = 0;
      header = undefined;
      headerLines = undefined;
      line = 1;
    },
    started() {
      anyHeader = true;
    },
    mapped(texts, originals, place) {
      const number = origins?.add(place.file, place.line, place.lastLine, originals) ?? place.line;
      add(number, cells.read(texts, number, cells.inOrder) > 0);
    },
    unmapped(place) {
      anyHeader = true;
      refuse(origins?.add(place.file, place.line, place.lastLine) ?? place.line);
    },
    broken(why) {
      if (isSetAside(line)) {
        setAside++;
        return;
      }
      problems.add(typeof why === 'string' ? unreadableRest(label, line, why) : why);
      anyHeader = true;
      refuse(numbered(line, LAST_LINE));
    },
    end() {
      endFile();
      if (!anyHeader) problems.add(emptyFile(label, table.name === 'episodes' ? 'refused' : 'warning'));
      for (const [name, known] of codes) {
        const what =
          name === 'episode_id' && table.name !== 'episodes'
            ? undefined
            : identifyingAmong(known.labels, OF_PERSONS.has(name) ? identifyingCode : undefined);
        if (what !== undefined) problems.add(identifyingCodes(label, headerLines?.[0] ?? 1, name, what));
      }
      return {
        table,
        rows,
        lines: new Int32Array(lines.values()),
        refused: new Uint8Array(refused.values()),
        columns: cells.columns(),
        codes: new Map([...codes].map(([name, known]) => [name, known.labels])),
        extraColumns,
        headerLines,
        lastLines,
        origins,
      };
    },
    get rowsSoFar() {
      return rows;
    },
    get setAside() {
      return setAside;
    },
    get headerLines() {
      return headerLines;
    },
  };
}
