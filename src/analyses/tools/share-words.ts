import { formatPercent, formatPercentNumber, type Interval, THIN_SPACE } from '../../wording/format.ts';

/** A share in a sentence: `12 % (8 to 17 %)`; without limits the percentage alone. */
export function shareInWords(share: Interval): string {
  const { estimate, lower, upper } = share;
  if (lower === undefined && upper === undefined) return formatPercent(estimate);
  const from = lower === undefined ? 'not known' : formatPercentNumber(lower);
  const to = upper === undefined ? 'not known' : `${formatPercentNumber(upper)}${THIN_SPACE}%`;
  return `${formatPercent(estimate)} (${from} to ${to})`;
}
