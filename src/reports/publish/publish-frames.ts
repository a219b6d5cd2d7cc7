import type { CohortFrames } from '../../cohort/cohort-frames.ts';
import { FRAME_DICTIONARY } from '../../cohort/frame-dictionary.ts';
import { frameFiles } from '../frames/frame-files.ts';
import { fileName } from '../frames/frames-readme.ts';
import type { Provenance } from '../provenance.ts';
import { type FolderKind, publishFolder } from './publish-folder.ts';

const FRAMES: FolderKind = {
  name: 'analysis frames',
  holds: new Set([
    'README.md',
    ...Object.keys(FRAME_DICTIONARY).flatMap(key =>
      ['arrow', 'parquet', 'csv'].map(ending => `${fileName(key)}.${ending}`),
    ),
  ]),
};

/**
 * Writes the analysis frames as a folder, whole or not at all: Arrow, Parquet and CSV of each, and README.md.
 *
 * @returns the absolute path of the folder
 * @throws PublishError as `publishFolder`
 */
export function publishFrames(
  folder: string,
  frames: CohortFrames,
  provenance: Provenance,
  options: { readonly replace?: boolean } = {},
): Promise<string> {
  return publishFolder(folder, frameFiles(frames, provenance), { ...options, kind: FRAMES });
}
