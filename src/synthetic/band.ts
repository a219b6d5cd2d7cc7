import type { Findings } from './findings.ts';

export const BAND_NAMES = ['mild', 'moderate', 'severe'] as const;
export type BandName = (typeof BAND_NAMES)[number] | 'straight';

/**
 * Severity band of complete baseline findings by the default rule of docs/definitions.md, written out here apart from
 * the analyses so that the truth does not rest on the code it is to check.
 */
export function bandOf(findings: Findings): BandName {
  const { position, flexibility, crease } = findings;
  if (position <= 2.5 && flexibility === 'past straight') return 'straight';
  const byPosition = position <= 3 ? 0 : position <= 4 ? 1 : 2;
  const byFlexibility = flexibility === 'past straight' ? 0 : flexibility === 'to straight' ? 1 : 2;
  const worse = Math.max(byPosition, byFlexibility, crease ? 1 : 0);
  return BAND_NAMES[worse] ?? 'severe';
}
