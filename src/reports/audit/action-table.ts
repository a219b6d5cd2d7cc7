import type { Finding } from '../../analyses/finding.ts';
import type { DocumentTable, Section } from '../document.ts';

/** Lines left free for what the report did not point at. */
const FREE_LINES = 2;

/** A table to fill in by hand: what was found stands in it, what follows from it does not. */
export function actionSection(findings: readonly Finding[]): Section {
  return {
    key: 'actions',
    title: 'What will be done',
    blocks: [
      {
        kind: 'paragraph',
        text: 'To be filled in by the service. The lines are the standards that were not met, the signals of the quarter and the sites beyond the outer limits. What lies beyond them under a clinician is for a talk with that clinician, and has no line here.',
      },
      actionTable(findings),
    ],
    sections: [],
  };
}

/** By the table of standards: it also holds those whose counts are hidden. */
function notMet(findings: readonly Finding[]): readonly string[] {
  return findings
    .flatMap(({ tables }) => tables)
    .filter(({ key }) => key === 'standards')
    .flatMap(({ rows }) => rows)
    .flatMap(({ standard, verdict }) =>
      verdict === 'not met' && typeof standard === 'string' ? [standard] : [],
    );
}

function actionTable(findings: readonly Finding[]): DocumentTable {
  const found = [
    ...notMet(findings).map(standard => `Not met: ${standard}`),
    ...findings
      .flatMap(finding => finding.quarterCharts ?? [])
      .flatMap(chart =>
        [...chart.signals, ...chart.shifts].some(({ place }) => place === chart.quarters.length - 1)
          ? [`Signal: ${chart.title}`]
          : [],
      ),
    ...findings
      .flatMap(finding => finding.funnels ?? [])
      .flatMap(funnel =>
        funnel.units.flatMap(unit =>
          unit.kind === 'site' && unit.beyond?.limit === '99.8 %'
            ? [`Site ${unit.code}, ${unit.beyond.side}: ${funnel.title}`]
            : [],
        ),
      ),
    ...Array.from({ length: FREE_LINES }, () => 'Other:'),
  ];
  return {
    kind: 'table',
    key: 'actions',
    caption: 'Actions',
    columns: [
      { label: 'Found', align: 'left' },
      { label: 'Action', align: 'left' },
      { label: 'Who, by when', align: 'left' },
      { label: 'Done on', align: 'left' },
    ],
    rows: found.map(text => [{ text }, { text: '' }, { text: '' }, { text: '' }]),
    notes: [],
  };
}
