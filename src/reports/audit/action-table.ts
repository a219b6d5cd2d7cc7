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
        text: 'To be filled in by the service. The lines are the standards that were not met, the signals of the quarter and the sites beyond the outer limits.',
      },
      actionTable(findings),
    ],
    sections: [],
  };
}

function actionTable(findings: readonly Finding[]): DocumentTable {
  const found = [
    ...findings
      .flatMap(finding => finding.standards ?? [])
      .flatMap(result => (result.verdict === 'not met' ? [`Not met: ${result.title}`] : [])),
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
