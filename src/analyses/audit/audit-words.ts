import { formatInterval, formatPercent, formatShare, THIN_SPACE } from '../../wording/format.ts';
import type { StandardResult } from '../standard-result.ts';

/** `at least 95 %`, `under 10 %`, `all`. */
export function targetInWords({ direction, target }: Pick<StandardResult, 'direction' | 'target'>): string {
  if (direction === 'at least' && target === 1) return 'all';
  return `${direction} ${formatPercent(target)}`;
}

/** The title of a standard inside a sentence. */
export function inSentence(title: string): string {
  return title.slice(0, 1).toLowerCase() + title.slice(1);
}

/** `teach-back done 45/75 (60 %), interval 49 to 70 %, target at least 95 %`. */
export function resultInWords(result: StandardResult): string {
  const share = formatShare(result.count, result.n);
  const limits =
    result.share === undefined
      ? ''
      : `, interval ${formatInterval(result.share, 'proportion').replace(/^.*\((.*)\)$/u, '$1')}${THIN_SPACE}%`;
  return `${inSentence(result.title)} ${share}${limits}, target ${targetInWords(result)}`;
}
