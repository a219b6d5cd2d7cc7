import type { Identifying } from '../privacy/header-words.ts';
import type { Problem } from '../records.ts';
import { problem } from './problem.ts';

// Problems of a whole file, and of its header.

export function noSuchFolder(folder: string): Problem {
  return problem(
    'no-such-folder',
    'refused',
    { file: folder },
    'is not a folder',
    'a folder with episodes.csv in it',
  );
}

export function noEpisodesFile(): Problem {
  return problem(
    'missing-file',
    'refused',
    { file: 'episodes.csv' },
    'is not in the export',
    'a file of that name, or a mapping of the files that are there ("forefoot map" drafts one)',
  );
}

export function missingTable(file: string): Problem {
  return problem(
    'missing-table',
    'warning',
    { file },
    'is not in the export, so the table is taken as empty',
    'a file of that name',
  );
}

/** A table that is there under another name, or as something that is no file. */
export function misnamedFile(found: string, file: string): Problem {
  return problem(
    'misnamed-file',
    'refused',
    { file: found },
    found === file
      ? 'is no file, so nothing of it was read'
      : `is not named ${file}, so nothing of it was read`,
    found === file ? 'a file of that name' : `${file}, unpacked and as text`,
  );
}

export function emptyFile(file: string, severity: Problem['severity']): Problem {
  return problem('empty-file', severity, { file }, 'is empty', 'a header line with the names of the columns');
}

export function notUtf8(file: string): Problem {
  return problem(
    'not-utf-8',
    'refused',
    { file },
    'is not text in UTF-8, so none of it was read (it counts as one row)',
    'UTF-8, with or without a byte order mark; "forefoot map" drafts a mapping for other encodings',
  );
}

export function missingColumn(file: string, line: number, column: string): Problem {
  return problem(
    'missing-column',
    'refused',
    { file, line, field: column },
    'is missing from the header, so every row is refused',
    'one column of that name',
  );
}

export function duplicateHeader(file: string, line: number, column: string): Problem {
  return problem(
    'duplicate-header',
    'refused',
    { file, line, field: column },
    'stands in the header more than once, so every row is refused',
    'one column of that name',
  );
}

export function noKnownColumn(file: string, line: number): Problem {
  return problem(
    'no-known-column',
    'refused',
    { file, line },
    'the header has none of the required columns',
    'the columns that "forefoot dictionary" lists, spelled like them, separated by comma, semicolon or tab; "forefoot map" drafts a mapping for others',
  );
}

export function wrongNumberOfCells(file: string, line: number, cells: number, columns: number): Problem {
  return problem(
    'wrong-number-of-cells',
    'refused',
    { file, line },
    `the row has ${cells} ${cells === 1 ? 'cell' : 'cells'}, the header has ${columns}`,
    'as many cells as the header has',
  );
}

export function unreadableRest(file: string, line: number, reason: 'quote' | 'length'): Problem {
  return problem(
    'unreadable-rest',
    'refused',
    { file, line },
    reason === 'quote'
      ? 'a quotation mark is opened and never closed, so nothing from here to the end was read (it counts as one row)'
      : 'the row is longer than 1 MiB, so nothing from here to the end was read (it counts as one row)',
    reason === 'quote' ? 'quotation marks in pairs' : 'rows of up to 1 MiB',
  );
}

export function badDescription(
  field: string | undefined,
  value: string | undefined,
  allowed: string,
): Problem {
  return problem(
    'bad-description',
    'refused',
    {
      file: 'export.yaml',
      ...(field === undefined ? {} : { field }),
      ...(value === undefined ? {} : { value }),
    },
    'cannot be used and is left out',
    allowed,
  );
}

export function identifyingColumn(
  file: string,
  line: number,
  column: string,
  what: Identifying,
  by: 'header' | 'values',
): Problem {
  return problem(
    'identifying-column',
    'refused',
    { file, line, field: column },
    `looks by its ${by} like a column of ${PLURALS[what]}, so it was not read`,
    'no column that identifies a person or holds free text',
  );
}

export function identifyingCodes(file: string, line: number, column: string, what: Identifying): Problem {
  return problem(
    'identifying-codes',
    'warning',
    { file, line, field: column },
    `holds what looks like ${PLURALS[what]}`,
    'pseudonymous codes, such as "forefoot pseudonymise" makes',
  );
}

const PLURALS: Readonly<Record<Identifying, string>> = {
  name: 'names',
  'phone number': 'phone numbers',
  address: 'addresses',
  'health-service number': 'health-service numbers',
  'e-mail address': 'e-mail addresses',
  'birth date': 'birth dates',
  'free text': 'free text',
};

export function tooManyColumns(file: string, line: number, columns: number, most: number): Problem {
  return problem(
    'too-many-columns',
    'refused',
    { file, line },
    `the header has ${columns} columns, so every row is refused`,
    `up to ${most} columns`,
  );
}

export function symbolicLink(file: string): Problem {
  return problem(
    'symbolic-link',
    'refused',
    { file },
    'is a symbolic link, which is not followed',
    'the file itself',
  );
}

export function changedWhileRead(file: string): Problem {
  return problem(
    'changed-while-read',
    'refused',
    { file },
    'was changed while it was being read',
    'a file that nothing writes to',
  );
}

export function changedSinceSetAside(file: string): Problem {
  return problem(
    'changed-since-set-aside',
    'refused',
    { file },
    'is not the file that it was when rows of it were set aside',
    'the export as it was when the quarantine was written',
  );
}

export function fewerRowsBack(file: string, aside: number, back: number): Problem {
  return problem(
    'fewer-rows-back',
    'warning',
    { file },
    `had ${aside} rows set aside, of which ${back} came back corrected`,
    'every row that was set aside, corrected',
  );
}

export function badSetAside(file: string, what: string, allowed: string): Problem {
  return problem('bad-set-aside', 'refused', { file }, what, allowed);
}

export function notJson(file: string, line: number): Problem {
  return problem(
    'not-json',
    'refused',
    { file, line },
    'is not one FHIR resource in JSON',
    'one resource on each line (NDJSON)',
  );
}

export function unreadableWorkbook(file: string, what: string, allowed: string): Problem {
  return problem('unreadable-workbook', 'refused', { file }, what, allowed);
}

export function notInEncoding(file: string, encoding: string): Problem {
  return problem(
    'not-in-encoding',
    'refused',
    { file },
    `is not text in ${encoding}, so none of it was read (it counts as one row)`,
    'the encoding that the mapping names',
  );
}

export function missingSource(file: string): Problem {
  return problem(
    'missing-source',
    'refused',
    { file },
    'is not in the export',
    'the files that the mapping names',
  );
}
