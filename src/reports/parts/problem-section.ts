import { formatCount } from '../../wording/format.ts';
import { isHidden } from '../../wording/hidden-count.ts';
import type { DocumentTable, Section } from '../document.ts';
import { type Provenance, type PublishedProblem, rowsInAll } from '../provenance.ts';

/** What was wrong in the data, by kind, with counts; never a value, a line or a code. */
export function problemSection(provenance: Provenance): Section {
  const { problems } = provenance;
  const read = rowsInAll(provenance, 'read');
  const refused = rowsInAll(provenance, 'refused');
  return {
    key: 'data-problems',
    title: 'Problems found in the data',
    blocks: [
      {
        kind: 'paragraph',
        text:
          problems.length === 0
            ? isHidden(read)
              ? 'No problem was found in the rows read.'
              : `No problem was found in the ${formatCount(read)} rows read.`
            : `${isHidden(read) ? 'Of the rows read' : `Of ${formatCount(read)} rows read`}, ${isHidden(refused) ? 'a number that is withheld' : formatCount(refused)} were refused and left out of every number in this report. A row can have more than one problem.`,
      },
      ...(problems.length === 0 ? [] : [problemTable(problems)]),
    ],
    sections: [],
  };
}

function problemTable(problems: readonly PublishedProblem[]): DocumentTable {
  return {
    kind: 'table',
    key: 'data-problems',
    caption: 'Problems by file and kind',
    columns: [
      { label: 'File', align: 'left' },
      { label: 'Problem', align: 'left' },
      { label: 'Row', align: 'left' },
      { label: 'Count', align: 'right' },
    ],
    rows: problems.map(problem => [
      { text: problem.file },
      { text: problem.kind.replaceAll('-', ' ') },
      { text: problem.severity === 'refused' ? 'refused' : 'kept' },
      { text: formatCount(problem.count) },
    ]),
    notes: [],
  };
}
