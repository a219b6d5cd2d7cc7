import type { ModelDraft } from './count-model.ts';

/**
 * Notes where a cell is the sum of two or more in a row, right after it or right before it.
 *
 * @param mayBeTotal places that can be a total; by default the first and the last
 */
export function relateRuns(
  draft: ModelDraft,
  cells: readonly (number | undefined)[],
  mayBeTotal: (place: number) => boolean = place => place === 0 || place === cells.length - 1,
): void {
  const value = (i: number): number => {
    const cell = cells[i];
    return cell === undefined ? Number.NaN : draft.value(cell);
  };
  for (const [i, total] of cells.entries()) {
    if (total === undefined || draft.value(total) === 0 || !mayBeTotal(i)) continue;
    for (const step of [1, -1]) {
      let sum = 0;
      let some = 0;
      const parts: number[] = [];
      for (let k = i + step; k >= 0 && k < cells.length; k += step) {
        const cell = cells[k];
        if (cell === undefined) break;
        sum += value(k);
        parts.push(cell);
        if (value(k) > 0) some += 1;
        if (sum > draft.value(total)) break;
        if (sum === draft.value(total) && some > 1) draft.sum(total, parts);
      }
    }
  }
}
