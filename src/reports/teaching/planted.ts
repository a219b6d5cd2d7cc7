import { formatDecimal, formatNumber, NOTHING } from '../../wording/format.ts';
import type { Block, DocumentTable } from '../document.ts';
import type { KnownTruth } from './known-truth.ts';

type Audit = KnownTruth['audit'];
type Change = Audit['changes'][number];

/** What was planted for an audit to find, by the key of the section that should find it. */
export function plantedBlocks({ audit }: KnownTruth, heading: string): Readonly<Record<string, Block>> {
  return { 'audit-charts': changesTable(audit, heading), 'audit-comparison': sitesTable(audit, heading) };
}

const left = (label: string) => ({ label, align: 'left' as const });
const right = (label: string, unit?: string) => ({
  label,
  align: 'right' as const,
  ...(unit === undefined ? {} : { unit }),
});

function changesTable({ changes, quarters }: Audit, heading: string): DocumentTable {
  const named = (place: number): string => quarters[place]?.quarter ?? NOTHING;
  return {
    kind: 'table',
    key: 'audit-charts.truth',
    caption: `${heading}: changes over the quarters`,
    columns: [
      left('What'),
      left('Site'),
      left('From'),
      left('To'),
      right('At first'),
      right('At last'),
      left('Then'),
    ],
    rows:
      changes.length === 0
        ? [[{ text: 'nothing' }, ...Array.from({ length: 6 }, () => ({ text: NOTHING }))]]
        : changes.map(change => [
            { text: change.what },
            { text: change.site ?? 'every site' },
            { text: named(change.fromQuarter) },
            { text: named(change.toQuarter) },
            { text: sizeText(change, change.atStart) },
            { text: sizeText(change, change.atEnd) },
            { text: change.lasts ? 'stays so' : 'as before' },
          ]),
    notes: ['Against what it would be without the change. A signal elsewhere is chance.'],
  };
}

function sizeText({ what }: Change, size: number): string {
  const signed = (text: string): string => (size > 0 ? `+${text}` : text);
  if (what === 'teach-back') return `${signed(formatDecimal(100 * size, 0))} percentage points`;
  if (what === 'second checkup delay') return `${signed(formatDecimal(size, 0))} days`;
  return `${formatDecimal(size, 1)} times as many`;
}

function sitesTable({ sites }: Audit, heading: string): DocumentTable {
  return {
    kind: 'table',
    key: 'audit-comparison.truth',
    caption: `${heading}: how sites differ, before any change`,
    columns: [
      left('Site'),
      right('Teach-back', '%'),
      right('Photograph', '%'),
      right('Sores reviewed in time', '%'),
      right('First checkup later by', 'days'),
      right('Second checkup later by', 'days'),
    ],
    rows: sites.map(site => [
      { text: site.site },
      ...[site.teachBack, site.baselinePhotograph, site.reviewInTime].map(share => ({
        text: formatNumber(share, 'proportion'),
      })),
      ...[site.firstCheckupDelay, site.secondCheckupDelay].map(days => ({ text: formatDecimal(days, 0) })),
    ]),
    notes: ['A site that is like the others and lies outside the limits does so by chance.'],
  };
}
