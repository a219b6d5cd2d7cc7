import type { DocumentCell, DocumentTable } from '../../src/reports/document.ts';
import { formatDecimal, NOTHING } from '../../src/wording/format.ts';
import type { AuditRecovery } from './audit-judge.ts';
import type { ScenarioRecovery } from './study.ts';

const left = (label: string) => ({ label, align: 'left' as const });
const right = (label: string, unit?: string) => ({
  label,
  align: 'right' as const,
  ...(unit === undefined ? {} : { unit }),
});
const cell = (text: string): DocumentCell => ({ text });

/** Readings of one kind by what they are of, in the order in which they first occur. */
function measuresOf(scenarios: readonly ScenarioRecovery[], kind: AuditRecovery['kind']): readonly string[] {
  return [
    ...new Set(
      scenarios.flatMap(({ audit }) => audit.filter(r => r.kind === kind).map(({ measure }) => measure)),
    ),
  ];
}

function percent(found: AuditRecovery | undefined): string {
  return found === undefined ? NOTHING : formatDecimal(100 * found.share, 0);
}

/** How often each standard was judged met and not met in the last full quarter. */
export function verdictsOfAudit(scenarios: readonly ScenarioRecovery[]): DocumentTable {
  const find = ({ audit }: ScenarioRecovery, measure: string, reading: AuditRecovery['reading']) =>
    audit.find(r => r.kind === 'verdict' && r.measure === measure && r.reading === reading);
  return {
    kind: 'table',
    key: 'audit-verdicts',
    caption: 'Verdicts of the audit on its last full quarter: met / not met',
    columns: [left('Standard'), ...scenarios.map(({ scenario }) => right(scenario, '%'))],
    rows: measuresOf(scenarios, 'verdict').map(measure => [
      cell(measure),
      ...scenarios.map(scenario =>
        cell(`${percent(find(scenario, measure, 'met'))} / ${percent(find(scenario, measure, 'not met'))}`),
      ),
    ]),
    notes: ['Of exports in which something fell due; what is missing to 100 % is too few to say.'],
  };
}

/** How often a chart gave a signal: found where a change was planted, by chance elsewhere. */
export function signalsOfCharts(scenarios: readonly ScenarioRecovery[]): DocumentTable {
  const find = ({ audit }: ScenarioRecovery, measure: string, reading: AuditRecovery['reading']) =>
    audit.find(r => r.kind === 'chart' && r.measure === measure && r.reading === reading);
  return {
    kind: 'table',
    key: 'audit-charts',
    caption: 'Exports with at least one signal over the quarters, control and run charts together',
    columns: [left('Chart'), ...scenarios.map(({ scenario }) => right(scenario, '%'))],
    rows: measuresOf(scenarios, 'chart').map(measure => [
      cell(measure),
      ...scenarios.map(scenario => {
        const any = find(scenario, measure, 'signal');
        const then = find(scenario, measure, 'signal in the quarters of the change');
        return cell(
          any?.planted === true ? `planted: ${percent(any)}, ${percent(then)} in its quarters` : percent(any),
        );
      }),
    ]),
    notes: [
      'Planted: the scenario changes over the quarters there, so a signal is a find. Elsewhere no change was planted, so a signal is chance or the work of the method.',
    ],
  };
}

/** How often each site lay outside the limits of its funnel. */
export function sitesOfFunnels(scenarios: readonly ScenarioRecovery[]): DocumentTable {
  const rows = scenarios.flatMap(({ scenario, audit }) =>
    audit
      .filter(r => r.kind === 'site' && r.reading === 'outside 95 %')
      .map(inner => {
        const outer = audit.find(
          r =>
            r.kind === 'site' &&
            r.measure === inner.measure &&
            r.site === inner.site &&
            r.reading === 'outside 99.8 %',
        );
        return { scenario, inner, outer };
      }),
  );
  return {
    kind: 'table',
    key: 'audit-sites',
    caption: 'Exports in which a site lies outside the limits of its funnel over four quarters',
    columns: [
      left('Scenario'),
      left('Standard'),
      left('Site'),
      left('Planted'),
      right('Outside 95 % limits', '%'),
      right('Outside 99.8 % limits', '%'),
    ],
    rows: rows.map(({ scenario, inner, outer }) => [
      cell(scenario),
      cell(inner.measure),
      cell(inner.site),
      cell(inner.planted ? 'fails it' : ''),
      cell(formatDecimal(100 * inner.share, 1)),
      cell(outer === undefined ? NOTHING : formatDecimal(100 * outer.share, 1)),
    ]),
    notes: [
      'The limits lie round the share of all sites together. Where one site fails, that share is low, and the others lie above it: being outside is then no error. Families far from the clinic miss more checkups, so timeliness differs a little between sites in every scenario.',
    ],
  };
}
