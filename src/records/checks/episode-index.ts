import { unknownEpisode } from '../problems/rows.ts';
import { MISSING } from '../reading/values.ts';
import type { Checking } from './checking.ts';
import { acceptedRows, column, isRefused, lineOf, refuse } from './checking.ts';

/** The course of an accepted episode as the other tables are checked against it; days since 1970-01-01. */
export interface EpisodeCourse {
  readonly birth: number;
  readonly start: number;
  readonly end: number | undefined;
}

/** Finds an episode by its code. */
export interface EpisodeIndex {
  course(code: number): EpisodeCourse | undefined;
  /** Line of the refused row of an episode that has no accepted one. */
  refusedLine(code: number): number | undefined;
}

export function episodeIndex(episodes: Checking): EpisodeIndex {
  const codes = column(episodes, 'episode_id');
  const starts = column(episodes, 'start_date');
  const ends = column(episodes, 'end_date');
  const ages = column(episodes, 'age_at_start_days');
  const courses: EpisodeCourse[] = [];
  const refusedLines: number[] = [];
  for (let row = 0; row < episodes.data.rows; row++) {
    const code = codes[row] ?? -1;
    if (code < 0) continue;
    if (isRefused(episodes, row)) refusedLines[code] ??= lineOf(episodes, row);
    else {
      const start = starts[row] ?? 0;
      const end = ends[row] === MISSING ? undefined : ends[row];
      courses[code] = { birth: start - (ages[row] ?? 0), start, end };
    }
  }
  return { course: code => courses[code], refusedLine: code => refusedLines[code] };
}

/** Refuses the rows whose episode was not accepted, and calls back for the others with the course of theirs. */
export function forEachLinkedRow(
  checking: Checking,
  episodes: EpisodeIndex,
  visit: (row: number, course: EpisodeCourse) => void,
): void {
  const codes = column(checking, 'episode_id');
  const texts = checking.data.codes.get('episode_id') ?? [];
  for (const row of acceptedRows(checking)) {
    const code = codes[row] ?? -1;
    const course = episodes.course(code);
    if (course === undefined) {
      const { file } = checking.data.table;
      const why = unknownEpisode(file, lineOf(checking, row), texts[code] ?? '', episodes.refusedLine(code));
      refuse(checking, row, why);
    } else visit(row, course);
  }
}
