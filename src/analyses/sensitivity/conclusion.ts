import { formatInterval, formatPercent, listInWords } from '../../wording/format.ts';
import type { Measure } from '../finding.ts';
import { withLimits } from '../tools/curves.ts';

/** Key of the measure that goes with the conclusion about severity. */
export const TREND_KEY = 'cox.trend';

/** What the trend across bands says. */
export type Conclusion = 'later' | 'sooner' | 'no trend shown' | 'cannot be told';

/** What is found under one alternative. */
export interface Variant {
  readonly label: string;
  /** Absent where the alternative does not touch correction. */
  readonly conclusion?: Conclusion;
  readonly estimates: ReadonlyMap<string, number | undefined>;
}

/** What is found under the plan. */
interface Main {
  readonly numbers: readonly Measure[];
  readonly conclusion?: Conclusion;
}

const IN_WORDS: Readonly<Record<Conclusion, string>> = {
  later: 'feet of a worse band are corrected later',
  sooner: 'feet of a worse band are corrected sooner',
  'no trend shown': 'no trend across bands is shown',
  'cannot be told': 'a trend across bands cannot be told',
};

/** By the test for trend at the level of the plan, and the direction of the difference. */
export function conclusionOfTest(
  pValue: number | undefined,
  direction: 'later' | 'sooner' | undefined,
  level: number,
): Conclusion {
  if (pValue === undefined || direction === undefined) return 'cannot be told';
  return 1 - pValue > level ? direction : 'no trend shown';
}

/** By the limits of a hazard ratio for each band further: all below 1, or all above. */
export function conclusionOfLimits({ lower, upper }: Pick<Measure, 'lower' | 'upper'>): Conclusion {
  if (lower === undefined || upper === undefined) return 'cannot be told';
  if (upper < 1) return 'later';
  return lower > 1 ? 'sooner' : 'no trend shown';
}

/** Whether the conclusion stands, under which alternatives it falls, and which share moves most. */
export function conclusionInWords(main: Main, variants: readonly Variant[]): string {
  return [verdict(main, variants), ...largestMove(main.numbers, variants)].join(' ');
}

function verdict(
  { numbers, conclusion: held = 'cannot be told' }: Main,
  variants: readonly Variant[],
): string {
  const tested = variants.filter(variant => variant.conclusion !== undefined);
  const others = tested.flatMap(({ label, conclusion }) =>
    conclusion === undefined || conclusion === held ? [] : [`${lowerFirst(label)} (${IN_WORDS[conclusion]})`],
  );
  const trend = numbers.find(measure => measure.key === TREND_KEY);
  const ratio =
    trend?.estimate === undefined
      ? ''
      : ` (hazard ratio for each band further ${formatInterval(withLimits(trend.estimate, trend.lower, trend.upper), 'ratio')})`;
  const opening = `${capital(IN_WORDS[held])}${ratio}`;
  if (held === 'cannot be told') {
    return others.length === 0
      ? `${opening}, nor can it under any alternative.`
      : `${opening}, other than with ${listInWords(others)}.`;
  }
  if (others.length === 0) return `${opening}, and so it is under each of the ${tested.length} alternatives.`;
  return `${opening}; this would change with ${listInWords(others)}, and stands under ${tested.length - others.length} of ${tested.length} alternatives.`;
}

function largestMove(main: readonly Measure[], variants: readonly Variant[]): readonly string[] {
  let most: { measure: Measure; from: number; to: number; label: string } | undefined;
  for (const measure of main) {
    const from = measure.estimate;
    if (measure.kind !== 'proportion' || from === undefined) continue;
    for (const { label, estimates } of variants) {
      const to = estimates.get(measure.key);
      if (to === undefined || to === from) continue;
      if (most === undefined || Math.abs(to - from) > Math.abs(most.to - most.from))
        most = { measure, from, to, label };
    }
  }
  if (most === undefined) return [];
  const { measure, from, to, label } = most;
  const whose = measure.group === undefined ? '' : `, ${measure.group} feet`;
  return [
    `The share that moves most is ${lowerFirst(measure.label)}${whose}: from ${formatPercent(from)} to ${formatPercent(to)} with ${lowerFirst(label)}.`,
  ];
}

function lowerFirst(text: string): string {
  return text.slice(0, 1).toLowerCase() + text.slice(1);
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
