import { array, assert, double, property } from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeLabels } from '../../src/figures/place-labels.ts';

describe('labels moved apart', () => {
  it('leaves labels that do not touch where they are', () => {
    expect(placeLabels([200, 20, 100], 14, 7, 293)).toEqual([200, 20, 100]);
  });

  it('spreads two that want one place evenly about it', () => {
    expect(placeLabels([100, 100], 14, 7, 293)).toEqual([93, 107]);
  });

  it('keeps them inside the plot', () => {
    expect(placeLabels([0, 1, 2], 14, 7, 293)).toEqual([7, 21, 35]);
    expect(placeLabels([300, 300, 300], 14, 7, 293)).toEqual([265, 279, 293]);
  });

  it('carries a chain of collisions upward', () => {
    const places = placeLabels([280, 284, 288, 292], 14, 7, 293);
    expect(places).toEqual([251, 265, 279, 293]);
  });

  it('never lets any two of up to four labels touch, nor swaps their order', () => {
    assert(
      property(array(double({ min: -50, max: 350, noNaN: true }), { minLength: 1, maxLength: 4 }), wanted => {
        const places = placeLabels(Object.freeze(wanted), 14, 7, 293);
        expect(Math.min(...places)).toBeGreaterThanOrEqual(7 - 1e-9);
        expect(Math.max(...places)).toBeLessThanOrEqual(293 + 1e-9);
        const inOrder = wanted
          .map((wish, i) => ({ wish, place: places[i] ?? 0 }))
          .sort((a, b) => a.wish - b.wish || a.place - b.place)
          .map(({ place }) => place);
        const gaps = inOrder.slice(1).map((place, i) => place - (inOrder[i] ?? 0));
        expect(Math.min(...gaps, 14)).toBeGreaterThanOrEqual(14 - 1e-9);
      }),
      { seed: 7, numRuns: 500 },
    );
  });
});
