import { describe, expect, it } from 'vitest';
import { stream } from '../../src/synthetic/streams.ts';

const draws = (n: number, draw: () => number) => Array.from({ length: n }, draw);
const mean = (values: readonly number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;

describe('streams of random numbers', () => {
  it('repeat for the same seed, infant and purpose', () => {
    const first = draws(20, stream(7, 3, 'wear').uniform);
    expect(draws(20, stream(7, 3, 'wear').uniform)).toEqual(first);
  });

  it('differ by seed (above 32 bits too), infant and purpose', () => {
    const first = draws(5, stream(7, 3, 'wear').uniform);
    for (const other of [
      stream(8, 3, 'wear'),
      stream(7, 4, 'wear'),
      stream(7, 3, 'skin'),
      stream(7 + 2 ** 32, 3, 'wear'),
    ]) {
      expect(draws(5, other.uniform)).not.toEqual(first);
    }
  });

  it('are pinned: these values must come out on every machine', () => {
    const s = stream(7, 3, 'wear');
    expect(draws(3, s.uniform)).toEqual([0.5732104651397094, 0.5738710657460615, 0.844248901703395]);
    expect(draws(3, s.normal)).toEqual([0.5733316499292541, 1.3795880508690115, 0.8310407749198291]);
  });

  it('neighbouring infants are uncorrelated', () => {
    const a = Array.from({ length: 4000 }, (_, i) => stream(1, i, 'x').uniform() - 0.5);
    const b = a.slice(1);
    // Standard error of a correlation of 4000 pairs is 0.016.
    expect(Math.abs(mean(b.map((x, i) => x * (a[i] ?? 0))) * 12)).toBeLessThan(0.05);
    expect(Math.abs(mean(a))).toBeLessThan(0.02);
  });

  it('have the moments of their distributions', () => {
    const s = stream(11, 0, 'moments');
    const normal = draws(40_000, s.normal);
    expect(Math.abs(mean(normal))).toBeLessThan(0.02);
    expect(Math.abs(mean(normal.map(x => x * x)) - 1)).toBeLessThan(0.03);
    expect(Math.abs(mean(normal.map(x => x ** 4)) - 3)).toBeLessThan(0.25);
    const whole = draws(6000, () => s.whole(2, 4));
    for (const value of [2, 3, 4]) {
      expect(Math.abs(whole.filter(x => x === value).length / 6000 - 1 / 3)).toBeLessThan(0.03);
    }
    const picked = draws(6000, () => s.pick([1, 0, 3]));
    expect(picked).not.toContain(1);
    expect(Math.abs(mean(picked.map(x => x / 2)) - 0.75)).toBeLessThan(0.03);
  });
});
