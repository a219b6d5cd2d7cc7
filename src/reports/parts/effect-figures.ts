import type { Effect, Finding } from '../../analyses/finding.ts';
import { type ForestRow, forestFigure } from '../../figures/index.ts';
import { formatCount, formatInterval, formatLevel } from '../../wording/format.ts';
import type { Block } from '../document.ts';

/**
 * The forest of one panel of a finding, with a sentence in its place where the panel has no estimate. The title quotes
 * the worst band, where the panel compares bands.
 *
 * @param panel the panel's name, as in its effects
 * @param unit what the sizes of its lines count
 */
export function panelFigure(finding: Finding, panel: string, level: number, unit = 'feet'): readonly Block[] {
  const lines = (finding.effects ?? []).filter(effect => effect.panel === panel);
  if (lines.length === 0) return [];
  return effectFigure(`${finding.key}.${keyOf(panel)}`, panel, lines, { level, unit }, ({ label }) => label);
}

/** One line of each of several panels in one forest, named by panel: the same comparison by different models. */
export function comparisonFigure(
  finding: Finding,
  key: string,
  title: string,
  lines: readonly Effect[],
  level: number,
): readonly Block[] {
  if (lines.length === 0) return [];
  return effectFigure(`${finding.key}.${key}`, title, lines, { level, unit: 'feet' }, ({ panel }) => panel);
}

function effectFigure(
  key: string,
  name: string,
  lines: readonly Effect[],
  { level, unit }: { readonly level: number; readonly unit: string },
  label: (line: Effect) => string,
): readonly Block[] {
  if (lines.every(({ estimate }) => estimate === undefined)) {
    const states = [...new Set(lines.map(({ state }) => state ?? 'not known'))].join(', ');
    return [
      {
        kind: 'paragraph',
        text: `${name}: no figure is drawn, since nothing could be estimated (${states}).`,
      },
    ];
  }
  const ratio = lines.some(({ kind }) => kind === 'ratio');
  const rows = lines.map(line => rowOf(line, label(line)));
  const figure = forestFigure(rows, {
    key,
    title: titleOf(name, lines),
    subtitle: `${ratio ? 'Ratios on a logarithmic scale' : 'Differences'} with ${formatLevel(level)} intervals${sizeOf(lines, unit)}`,
    kind: ratio ? 'ratio' : 'number',
    reference: ratio ? 1 : 0,
    scale: ratio ? 'log' : 'linear',
  });
  return [{ kind: 'figure', figure, caption: `${name}. ${referencesOf(lines)}` }];
}

/** A limit that a logarithmic scale cannot hold counts as not known, and is drawn to the edge. */
function rowOf(line: Effect, label: string): ForestRow {
  const fits = (value: number | undefined): value is number =>
    value !== undefined && (line.kind === 'difference' || value > 0);
  if (!fits(line.estimate)) return { label, state: line.state ?? 'not known' };
  return {
    label,
    estimate: line.estimate,
    ...(fits(line.lower) ? { lower: line.lower } : {}),
    ...(fits(line.upper) ? { upper: line.upper } : {}),
  };
}

function titleOf(name: string, lines: readonly Effect[]): string {
  const bands = lines.filter(({ key }) => key.includes('.band.'));
  const worst = bands.at(-1);
  if (worst?.estimate === undefined || new Set(bands.map(({ panel }) => panel)).size > 1) return name;
  const { estimate, lower, upper } = worst;
  const value = formatInterval(
    {
      estimate,
      ...(lower === undefined ? {} : { lower }),
      ...(upper === undefined ? {} : { upper }),
    },
    'ratio',
  );
  return `${name}: ${value} in ${worst.label.toLowerCase()} against ${worst.reference} feet`;
}

/** The number analysed, where it is the same for all lines. */
function sizeOf(lines: readonly Effect[], unit: string): string {
  const sizes = new Set(lines.map(({ n }) => n));
  const [n] = sizes;
  return sizes.size === 1 && n !== undefined ? `; ${formatCount(n)} ${unit}` : '';
}

function referencesOf(lines: readonly Effect[]): string {
  const compared = new Map<string, string[]>();
  for (const { label, reference } of lines) {
    const labels = compared.get(reference) ?? [];
    if (!labels.includes(label)) compared.set(reference, [...labels, label]);
  }
  const parts = [...compared].map(([reference, labels]) => `${labels.join(' and ')} with ${reference}`);
  return `Compared: ${parts.join('; ')}.`;
}

function keyOf(panel: string): string {
  return panel
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '');
}
