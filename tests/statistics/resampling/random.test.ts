import { describe, expect, it } from 'vitest';
import { randomStream } from '../../../src/statistics/resampling/index.ts';

function moments(draw: () => number, n: number): { mean: number; variance: number; fourth: number } {
  const values = Array.from({ length: n }, draw);
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const about = (power: number): number =>
    values.reduce((sum, value) => sum + (value - mean) ** power, 0) / n;
  return { mean, variance: about(2), fourth: about(4) };
}

describe('randomStream', () => {
  it('uniforms have the moments of the uniform law', () => {
    const { uniform } = randomStream(42);
    const { mean, variance } = moments(uniform, 200_000);
    expect(Math.abs(mean - 0.5)).toBeLessThan(4 * Math.sqrt(1 / 12 / 200_000));
    expect(Math.abs(variance - 1 / 12)).toBeLessThan(0.001);
  });

  it('normals have mean 0, variance 1 and fourth moment 3', () => {
    const { normal } = randomStream(43);
    const { mean, variance, fourth } = moments(normal, 200_000);
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(200_000));
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / 200_000));
    expect(Math.abs(fourth - 3)).toBeLessThan(4 * Math.sqrt(96 / 200_000));
  });

  it('exponentials have mean 1 and variance 1', () => {
    const { mean, variance } = moments(randomStream(44).exponential, 200_000);
    expect(Math.abs(mean - 1)).toBeLessThan(4 / Math.sqrt(200_000));
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(8 / 200_000));
  });

  it('whole numbers below a bound are equally likely', () => {
    const { below } = randomStream(45);
    const counts = [0, 0, 0, 0, 0, 0, 0];
    for (let i = 0; i < 70_000; i++) {
      const value = below(7);
      counts[value] = (counts[value] ?? 0) + 1;
    }
    const chiSquare = counts.reduce((sum, count) => sum + (count - 10_000) ** 2 / 10_000, 0);
    expect(chiSquare).toBeLessThan(22.5); // the upper 0.1 % point on 6 degrees of freedom
  });

  it('refuses a fractional seed', () => {
    expect(() => randomStream(1.5)).toThrow(/seed is 1.5/);
  });
});
