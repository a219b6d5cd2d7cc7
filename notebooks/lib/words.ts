/** A number to so many digits after the point, or a dash where there is none. */
export function digits(value: number | undefined, places = 2): string {
  return value === undefined ? '–' : value.toFixed(places);
}

/** A share of 1 as per cent, or a dash where there is none. */
export function percent(share: number | undefined): string {
  return share === undefined ? '–' : `${(100 * share).toFixed(0)} %`;
}

/** A p-value as it is written in a sentence. */
export function pValue(value: number | undefined): string {
  if (value === undefined) return 'p cannot be given';
  return value < 0.001 ? 'p < 0.001' : `p = ${value.toFixed(3)}`;
}
