import type { Finding, Measure } from '../../analyses/finding.ts';
import { formatLevel, formatNumber, NOTHING } from '../../wording/format.ts';
import { measureText } from '../cell-text.ts';
import type { Block, DocumentTable, ReportDocument, Section } from '../document.ts';
import type { FindingsInput } from '../findings-document.ts';
import type { KnownTruth } from './known-truth.ts';
import { plantedBlocks } from './planted.ts';
import { type TruthLine, truthLines } from './truth-lines.ts';

const INVENTED = 'Invented data: truth known';
const OF_LARGE_COHORT =
  'The truth is that of a large simulated cohort followed without loss, by the definitions of the default plan.';
const OF_SCENARIO =
  'The truth is what the scenario makes likely in that quarter, over the sites by their size; a clinic of a few infants a quarter lies about it by chance.';

/**
 * A report on a simulated export with the truth beside its estimates: a table at the end of each question of which the
 * truth is known, and a line at the top that says so. The findings stay as they are; no analysis has read the truth.
 */
export function withTruth(
  document: ReportDocument,
  { findings, plan }: Pick<FindingsInput, 'findings' | 'plan'>,
  truth: KnownTruth,
): ReportDocument {
  const period = findings.find(({ key }) => key === 'audit')?.period?.name;
  const lines = truthLines(truth, period);
  const planted = plantedBlocks(truth, INVENTED);
  return {
    ...document,
    caution: {
      ...document.caution,
      items: [
        `${INVENTED}. This export was simulated (scenario ${truth.scenario}); tables headed “${INVENTED}” say what is true of a large cohort of the same scenario, and what was planted.`,
        ...document.caution.items,
      ],
    },
    sections: document.sections.map(section => {
      const finding = findings.find(({ key }) => key === section.key);
      const table =
        finding && (truthTable(finding, lines[finding.key] ?? [], plan.level) ?? planted[finding.key]);
      return table === undefined ? section : withBlock(section, table);
    }),
  };
}

function withBlock(section: Section, block: Block): Section {
  return { ...section, blocks: [...section.blocks, block] };
}

function truthTable(finding: Finding, lines: readonly TruthLine[], level: number): DocumentTable | undefined {
  const measures = new Map(finding.measures.map(measure => [measure.key, measure]));
  const rows = lines.flatMap(line => {
    const measure = measures.get(line.key);
    return measure === undefined ? [] : [{ line, measure }];
  });
  if (rows.length === 0) return undefined;
  const seen = rows.some(({ line }) => line.seen !== undefined);
  return {
    kind: 'table',
    key: `${finding.key}.truth`,
    caption: `${INVENTED}: estimates beside it`,
    columns: [
      { label: 'Number', align: 'left' },
      { label: 'Estimate', align: 'right' },
      ...(seen ? [{ label: 'True of what checkups see', align: 'right' as const }] : []),
      { label: seen ? 'True of the feet' : 'Truth', align: 'right' },
    ],
    rows: rows.map(({ line, measure }) => [
      { text: nameOf(measure) },
      { text: measureText(measure) },
      ...(seen ? [{ text: truthText(line.seen, measure) }] : []),
      { text: truthText(line.happened, measure) },
    ]),
    notes: [
      `In brackets: ${formatLevel(level)} intervals. ${finding.key === 'audit' ? OF_SCENARIO : OF_LARGE_COHORT}`,
    ],
  };
}

function nameOf({ label, group, unit }: Measure): string {
  const name = group === undefined || group === 'all' ? label : `${label}, ${group}`;
  return unit === 'of 1' ? `${name} (%)` : `${name} (${unit})`;
}

function truthText(value: number | undefined, { kind }: Measure): string {
  return value === undefined ? NOTHING : formatNumber(value, kind);
}
