import { formatInterval, formatPercent, listInWords } from '../../wording/format.ts';
import type { Measure } from '../finding.ts';
import { withLimits } from '../tools/curves.ts';
import { TREND_KEY } from './headline.ts';

export type Conclusion = 'later' | 'sooner' | 'no trend shown' | 'cannot be told';

/** What the headline numbers say under one alternative. */
export interface Variant {
  readonly label: string;
  readonly numbers: ReadonlyMap<string, Pick<Measure, 'estimate' | 'lower' | 'upper' | 'state'>>;
}

const IN_WORDS: Readonly<Record<Conclusion, string>> = {
  later: 'feet of a worse band are corrected later',
  sooner: 'feet of a worse band are corrected sooner',
  'no trend shown': 'no trend across bands is shown',
  'cannot be told': 'a trend across bands cannot be told',
};

/** The conclusion on severity: whether the hazard ratio for each band further, with its limits, lies below or above 1. */
export function conclusionOf(trend: Pick<Measure, 'estimate' | 'lower' | 'upper'> | undefined): Conclusion {
  if (trend?.estimate === undefined || trend.lower === undefined || trend.upper === undefined) {
    return 'cannot be told';
  }
  if (trend.upper < 1) return 'later';
  return trend.lower > 1 ? 'sooner' : 'no trend shown';
}

/** Whether the conclusion stands, under which alternatives it falls, and which share moves most. */
export function conclusionInWords(main: readonly Measure[], variants: readonly Variant[]): string {
  const trend = main.find(measure => measure.key === TREND_KEY);
  const held = conclusionOf(trend);
  const tested = variants.filter(variant => variant.numbers.has(TREND_KEY));
  const ratio =
    trend?.estimate === undefined
      ? ''
      : ` (hazard ratio for each band further ${formatInterval(withLimits(trend.estimate, trend.lower, trend.upper), 'ratio')})`;
  const falls = tested.flatMap(({ label, numbers }) => {
    const other = conclusionOf(numbers.get(TREND_KEY));
    return other === held ? [] : [`${lowerFirst(label)} (${IN_WORDS[other]})`];
  });
  const opening = capital(IN_WORDS[held]);
  const verdict =
    falls.length === 0
      ? `${opening}${ratio}, and so it is under each of the ${tested.length} alternatives.`
      : `${opening}${ratio}; this would change with ${listInWords(falls)}, and stands under ${tested.length - falls.length} of ${tested.length} alternatives.`;
  return [verdict, ...largestMove(main, variants)].join(' ');
}

function largestMove(main: readonly Measure[], variants: readonly Variant[]): readonly string[] {
  let most: { readonly measure: Measure; readonly to: number; readonly label: string } | undefined;
  let distance = 0;
  for (const measure of main) {
    if (measure.kind !== 'proportion' || measure.estimate === undefined) continue;
    for (const { label, numbers } of variants) {
      const to = numbers.get(measure.key)?.estimate;
      if (to === undefined || Math.abs(to - measure.estimate) <= distance) continue;
      distance = Math.abs(to - measure.estimate);
      most = { measure, to, label };
    }
  }
  if (most?.measure.estimate === undefined) return [];
  const { measure, to, label } = most;
  const whose = measure.group === undefined ? '' : `, ${measure.group} feet`;
  return [
    `The share that moves most is ${lowerFirst(measure.label)}${whose}: from ${formatPercent(measure.estimate ?? 0)} to ${formatPercent(to)} with ${lowerFirst(label)}.`,
  ];
}

function lowerFirst(text: string): string {
  return text.slice(0, 1).toLowerCase() + text.slice(1);
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
