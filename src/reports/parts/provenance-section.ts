import { formatCount, formatDate, listInWords } from '../../wording/format.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Block, Section } from '../document.ts';
import type { Provenance } from '../provenance.ts';

/** Which data, which plan and which version gave the numbers, so that anyone can make them again. */
export function provenanceSection(provenance: Provenance, plan: Plan): Section {
  const cutOff = formatDate(provenance.cutOff);
  return {
    key: 'provenance',
    title: 'Data, plan and version',
    blocks: [
      {
        kind: 'definitions',
        items: [
          { term: 'Service', description: provenance.service ?? 'not named in the export' },
          {
            term: 'Data cut-off',
            description: provenance.cutOffGiven
              ? `${cutOff}, as given with the export`
              : `${cutOff}, the latest date in the export, which gives no cut-off of its own`,
          },
          { term: 'Export made', description: provenance.exportedAt ?? 'not stated in the export' },
          { term: 'Made with', description: `${provenance.software} ${provenance.version}` },
          { term: 'Seed', description: String(plan.seed) },
          {
            term: 'SHA-256 of the plan',
            description: [{ kind: 'code', text: provenance.planSha256 }],
          },
          ...mappingItem(provenance),
        ],
      },
      {
        kind: 'table',
        key: 'files',
        caption: 'Files read and rows accepted',
        columns: [
          { label: 'File', align: 'left' },
          { label: 'Rows read', align: 'right' },
          { label: 'Accepted', align: 'right' },
          { label: 'Refused', align: 'right' },
          { label: 'SHA-256 of the file', align: 'left' },
        ],
        rows: provenance.files.map(file => [
          { text: file.file },
          { text: formatCount(file.read) },
          { text: formatCount(file.accepted) },
          { text: formatCount(file.refused) },
          { text: [{ kind: 'code', text: file.sha256 }] },
        ]),
        notes: extraColumnNotes(provenance),
      },
      ...sourcesTable(provenance),
    ] satisfies readonly Block[],
    sections: [],
  };
}

function mappingItem({ mappingSha256 }: Provenance): Extract<Block, { kind: 'definitions' }>['items'] {
  if (mappingSha256 === undefined) return [];
  return [{ term: 'SHA-256 of the mapping', description: [{ kind: 'code', text: mappingSha256 }] }];
}

/** The files of the clinic, where the tables were made of others than those of their names. */
function sourcesTable({ sources = [] }: Provenance): readonly Block[] {
  if (sources.length === 0) return [];
  return [
    {
      kind: 'table',
      key: 'sources',
      caption: 'Files that the tables were made of',
      columns: [
        { label: 'File', align: 'left' },
        { label: 'SHA-256 of the file', align: 'left' },
      ],
      rows: sources.map(({ file, sha256 }) => [{ text: file }, { text: [{ kind: 'code', text: sha256 }] }]),
      notes: [],
    },
  ];
}

function extraColumnNotes(provenance: Provenance): readonly string[] {
  return provenance.files
    .filter(file => file.extraColumns.length > 0)
    .map(
      file =>
        `Columns of ${file.file} that the dictionary does not know, kept out: ${listInWords(file.extraColumns)}.`,
    );
}
