import type { CohortFrames } from '../../cohort/cohort-frames.ts';
import { FRAME_DICTIONARY } from '../../cohort/frame-dictionary.ts';
import type { Provenance } from '../provenance.ts';
import { arrowFile } from './arrow-file.ts';
import { frameCsv } from './frame-csv.ts';
import { readColumns } from './frame-table.ts';
import { fileName, framesReadme, type NamedFrame } from './frames-readme.ts';
import { parquetFile } from './parquet-file.ts';

type FrameFile =
  | { readonly path: string; readonly text: string }
  | { readonly path: string; readonly bytes: Uint8Array };

/**
 * Every analysis frame for other programs: Arrow, Parquet and CSV of each, and README.md with the meaning of every column.
 * The rows carry pseudonymous codes: these files are for the desk, not for publishing.
 *
 * @throws TypeError for a frame with a value that its description does not allow
 */
export function frameFiles(frames: CohortFrames, provenance: Provenance): FrameFile[] {
  const files: FrameFile[] = [];
  const createdBy = `${provenance.software} version ${provenance.version}`;
  const named: NamedFrame[] = [];
  for (const key of Object.keys(FRAME_DICTIONARY) as (keyof CohortFrames)[]) {
    const description = FRAME_DICTIONARY[key];
    const columns = readColumns(frames[key], description.columns);
    const file = fileName(key);
    named.push({ ...description, file, rows: frames[key].numRows() });
    files.push({ path: `${file}.arrow`, bytes: arrowFile(columns) });
    files.push({ path: `${file}.parquet`, bytes: parquetFile(columns, createdBy) });
    files.push({ path: `${file}.csv`, text: frameCsv(columns) });
  }
  return [...files, { path: 'README.md', text: framesReadme(named, provenance) }];
}
