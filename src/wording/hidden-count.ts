/** Stands in the place of a count that may not be published: a small one, or one from which a small one would follow. */
export type HiddenCount = 'withheld' | `fewer than ${number}`;

/** A count as a report may give it: the number, or the name of what stands in its place. */
export type Count = number | HiddenCount;

export const WITHHELD = 'withheld' satisfies HiddenCount;

/** The name of a small count. */
export function fewerThan(limit: number): HiddenCount {
  return `fewer than ${limit}`;
}

export function isHidden(count: unknown): count is HiddenCount {
  return typeof count === 'string' && (count === WITHHELD || /^fewer than \d+$/.test(count));
}

/** Whether there is anything to show in a place: a hidden count may be more than 0. */
export function mayBeSome(count: Count): boolean {
  return typeof count === 'string' || count > 0;
}

/** For a figure, where there is no room for words: `<5`, and `[c]` (confidential, as official statistics mark it). */
export function shortCount(count: HiddenCount): string {
  return count === WITHHELD ? '[c]' : `<${count.replace('fewer than ', '')}`;
}
