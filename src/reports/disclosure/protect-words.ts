import type { Finding, Measure } from '../../analyses/finding.ts';
import { formatCount, formatNumber, formatPercentNumber, type NumberKind } from '../../wording/format.ts';
import { isHidden } from '../../wording/hidden-count.ts';
import { measureText } from '../cell-text.ts';
import { type DisclosurePolicy, smallName } from './policy.ts';

/** Which numbers, as they are written, may not stand in a sentence: counts, percentages, and what has decimals. */
export interface HiddenWords {
  readonly policy: DisclosurePolicy;
  readonly counts: ReadonlySet<string>;
  readonly percents: ReadonlySet<string>;
  readonly others: ReadonlySet<string>;
  /** Estimates with their limits that are still published, as `11 8 15`. */
  readonly intervals: ReadonlySet<string>;
}

/** The numbers of a finding that its protected form no longer holds, as a sentence would write them. */
export function hiddenWords(
  finding: Finding,
  shown: Finding,
  hiddenCounts: Iterable<number>,
  policy: DisclosurePolicy,
): HiddenWords {
  const counts = new Set<string>();
  const percents = new Set<string>();
  const others = new Set<string>();
  for (let count = 1; count < policy.below; count++) counts.add(formatCount(count));
  for (const count of hiddenCounts) counts.add(formatCount(count));
  const write = (value: number | undefined, kind: NumberKind): void => {
    if (value === undefined) return;
    if (kind !== 'proportion') others.add(formatNumber(value, kind));
    else if (value !== 0 && value !== 1) percents.add(formatPercentNumber(value).replace(/^[<>]\s*/, ''));
  };
  for (const [i, { kind, estimate, lower, upper }] of finding.measures.entries()) {
    if (estimate === undefined || shown.measures[i]?.estimate !== undefined) continue;
    for (const value of [estimate, lower, upper]) write(value, kind);
  }
  for (const [t, table] of finding.tables.entries()) {
    for (const [r, row] of table.rows.entries()) {
      for (const column of table.columns) {
        const cell = row[column.key];
        if (typeof cell === 'string' || cell === undefined) continue;
        if (!isHidden(shown.tables[t]?.rows[r]?.[column.key])) continue;
        const kind = column.kind === 'percent of n' ? 'proportion' : 'time';
        if (typeof cell === 'object' && 'count' in cell) {
          counts.add(formatCount(cell.count));
          if (cell.of > 0) write(cell.count / cell.of, 'proportion');
        } else if (typeof cell === 'object' && 'median' in cell) write(cell.median, kind);
        else if (typeof cell === 'object')
          write(cell.estimate, column.kind === 'proportion' ? 'proportion' : kind);
      }
    }
  }
  return { policy, counts, percents, others, intervals: shownIntervals(shown) };
}

function shownIntervals({ measures, tables }: Finding): ReadonlySet<string> {
  const texts = new Set<string>();
  const note = (kind: NumberKind, cell: Limited): void => {
    const { estimate, lower, upper } = cell;
    if (estimate === undefined || lower === undefined || upper === undefined) return;
    texts.add([estimate, lower, upper].map(number => formatNumber(number, kind)).join(' '));
  };
  for (const measure of measures) note(measure.kind, measure);
  for (const { columns, rows } of tables) {
    for (const row of rows) {
      for (const { key, kind } of columns) {
        const cell = row[key];
        if (typeof cell !== 'object' || !('estimate' in cell)) continue;
        note(
          kind === 'proportion' || kind === 'percent of n'
            ? 'proportion'
            : kind === 'time'
              ? 'time'
              : 'ratio',
          cell,
        );
      }
    }
  }
  return texts;
}

interface Limited {
  readonly estimate?: number;
  readonly lower?: number;
  readonly upper?: number;
}

/**
 * The sentences of a text that may stand. A small share becomes `fewer than 5 of 197`, a small number of feet `fewer
 * than 5 feet`; a sentence that still holds a hidden number is left out.
 */
export function openSentences(text: string, hidden: HiddenWords): readonly string[] {
  return text
    .trim()
    .split(/(?<=[.!?])\s+(?=\p{Lu})/u)
    .map(sentence => openClauses(withoutSmall(sentence, hidden), hidden))
    .filter(sentence => sentence !== '');
}

/** A sentence, or those of its clauses between semicolons, or within brackets, that hold no hidden number. */
function openClauses(whole: string, hidden: HiddenWords): string {
  if (!holdsHidden(whole, hidden)) return whole;
  const sentence = whole.replace(REMARK, (all, remark: string) => {
    const kept = remark.split(/[;,] /).filter(part => !holdsHidden(part, hidden));
    if (kept.join(', ').length >= remark.length) return all;
    return kept.length === 0 ? '' : ` (${kept.join('; ')})`;
  });
  if (!holdsHidden(sentence, hidden)) return sentence;
  const [, opening = '', body = sentence] = /^([^:;(]*: )?(.*)$/s.exec(sentence) ?? [];
  if (!body.includes('; ') || holdsHidden(opening, hidden)) return '';
  const clauses = body
    .replace(/[.!?]$/, '')
    .split(/; (?![^()]*\))/)
    .filter(clause => !holdsHidden(clause, hidden));
  if (clauses.length === 0) return '';
  // A list of what was left out must not look whole when it is not.
  const rest =
    opening.startsWith('Left out') && clauses.length < body.split('; ').length ? '; others withheld' : '';
  // The first clause that is left opens the sentence now.
  const kept = `${opening}${clauses.join('; ')}${rest}.`;
  return kept.charAt(0).toUpperCase() + kept.slice(1);
}

function holdsHidden(sentence: string, { counts, percents, others, intervals }: HiddenWords): boolean {
  const rest = sentence
    .replace(INTERVAL, (all: string, estimate: string, lower: string, upper: string) =>
      intervals.has(`${estimate} ${lower} ${upper}`) ? ' ' : all,
    )
    // The percentage of two counts tells nothing beside them.
    .replace(/(\/\d[\d\u202F]*) \([^()]*%\)/g, '$1');
  return numbersIn(rest).some(({ text, percent }) => {
    if (percent) return percents.has(text);
    return text.includes('.') ? others.has(text) : counts.has(text);
  });
}

/** The statement of a finding from what may stand of it, or from the measures that are left. */
export function openStatement(finding: Finding, shown: Finding, hidden: HiddenWords): string {
  const sentences = openSentences(finding.statement, hidden);
  const lost = finding.statement.trim().split(/(?<=[.!?])\s+(?=\p{Lu})/u).length > sentences.length;
  if (!lost) return sentences.join(' ');
  const again = sentences.length > 0 ? undefined : fromMeasures(shown);
  const all = again === undefined ? sentences : [again];
  return all.length > 0
    ? all.join(' ')
    : `${finding.question} The numbers of the answer are too small to be published; what can be published stands in the tables.`;
}

/** The first measure by group of which something is left, in words. */
function fromMeasures(shown: Finding): string | undefined {
  const stemOf = ({ key, group }: Measure): string =>
    group !== undefined && key.endsWith(`.${group}`) ? key.slice(0, -group.length - 1) : key;
  const told = shown.measures.filter(
    ({ kind, estimate }) =>
      (kind === 'proportion' || kind === 'rate' || kind === 'time') &&
      estimate !== undefined &&
      estimate !== 0,
  );
  const [alone] = told;
  // A comparison of groups says more than one of them alone.
  const first = told.find(one => told.some(other => other !== one && stemOf(other) === stemOf(one))) ?? alone;
  if (first === undefined) return undefined;
  const family = shown.measures.filter(measure => stemOf(measure) === stemOf(first));
  const parts = family.map(measure => {
    const unit = measure.estimate === undefined || measure.unit === 'of 1' ? '' : ` ${measure.unit}`;
    const percent = measure.estimate !== undefined && measure.kind === 'proportion' ? ' %' : '';
    const group = measure.group === undefined ? '' : `${measure.group} `;
    return `${group}${measureText(measure)}${percent}${unit}`;
  });
  return `${first.label}: ${parts.join('; ')}.`;
}

/** A remark in brackets that has several parts. */
const REMARK = / \(([^()]*[;,] [^()]*)\)/g;

/** Estimate (lower to upper), of percentages with or without their sign. */
const INTERVAL =
  /(?<![\d.])(\d+(?:\.\d+)?)(?:\s?%)? \((\d+(?:\.\d+)?)(?:\s?%)? to (\d+(?:\.\d+)?)(?:\s?%)?\)(?:\s?%)?/g;

const COUNTED = String.raw`(?:[a-z]+ )?(?:feet|foot|infants?|spells?|step-downs?|events?|infants|pairs?|relapses|corrections|families)\b`;

/** A noun in the singular would say that the hidden number is 1. */
function inPlural(counted: string): string {
  return counted.replace(/foot$/, 'feet').replace(/(infant|spell|step-down|event|pair)$/, '$1s');
}

function withoutSmall(sentence: string, { policy, counts }: HiddenWords): string {
  const name = smallName(policy);
  const number = (text: string): number => Number(text.replace(/\D/g, ''));
  return sentence
    .replace(
      /(?<![\d.])(\d[\d\u202F]*)\/(\d[\d\u202F]*)(?:\s\([^()]*%\))?/g,
      (all: string, count: string, of: string) => {
        const k = number(count);
        if (k === 0 || k >= policy.below || counts.has(of)) return all;
        return `${name} of ${of}`;
      },
    )
    .replace(
      new RegExp(String.raw`(?<![\d.\u202F/])(\d+) (${COUNTED})`, 'g'),
      (all: string, count: string, counted: string) =>
        number(count) > 0 && number(count) < policy.below ? `${name} ${inPlural(counted)}` : all,
    );
}

/** Numbers of a sentence that may be results; weeks, hours, steps and levels that the plan sets are none. */
export function numbersIn(sentence: string): readonly { readonly text: string; readonly percent: boolean }[] {
  const rest = sentence
    .replace(/fewer than \d+/g, ' ')
    // Standards, charts and results are counted, not people.
    .replace(
      /\b(?:\d+ of )?\d+ (?:standards?|charts?|quarters?|results?|alternatives?|w(?:as|ere) (?:not )?met|there w(?:as|ere) too few)/g,
      ' ',
    )
    .replace(/\babout \d+ outside/g, ' ')
    // Limits of a chart, and the target of a standard.
    .replace(/\b\d+ sigma\b/g, ' ')
    .replace(/\btarget (?:at least|under) \d+(?:\.\d+)?\s%/g, ' ')
    // No difference, and full agreement.
    .replace(/\b(?:above|below|than|is) [01]\b/g, ' ')
    .replace(/(\d+(?:\.\d+)?) to (?=\d+(?:\.\d+)?\s?%)/g, '$1 % to ')
    .replace(/\b[Ww]eeks? \d+(?:\.\d+)?(?:(?:, | and | to )\d+)*/g, ' ')
    // Steps of the plan, such as 15 to 12 hours, and spans of it.
    .replace(/(?<![\d.])(?:\d+ to )?\d+ (?:weeks?|hours?|days?)\b/g, ' ')
    .replace(/\b(?:from )?\d+ to (?:\d+|none)\b(?!\s?%)(?![\d.)])/g, ' ')
    .replace(/\bP\s?[=<>]\s?\.\d+/g, ' ')
    .replace(/\d+(?:\.\d)?\s%\s(?:interval|limit|level)/g, ' ');
  // Within brackets before a percent sign, limits are percentages as well.
  const percents = rest.replace(/\([^()]*\)(?=\s?%)/g, limits => limits.replace(/(\d)(?![\d.])/g, '$1 %'));
  return [...percents.matchAll(/(?<![A-Za-z\d.])(\d[\d\u202F]*\d|\d)(\.\d+)?(\s?%)?/g)].map(
    ([, whole = '', decimals = '', percent]) => ({ text: whole + decimals, percent: percent !== undefined }),
  );
}
