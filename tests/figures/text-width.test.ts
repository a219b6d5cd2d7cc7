import { describe, expect, it } from 'vitest';
import { textWidth, wrapText } from '../../src/figures/text-width.ts';

describe('text width', () => {
  // Advance widths of DejaVu Sans 2.37 in units of 2048 an em: space 651, zero 1303, A 1401; bold zero 1425.
  it('adds up the advance widths of the font', () => {
    expect(textWidth('0', 1000)).toBeCloseTo((1303 / 2048) * 1000, 0);
    expect(textWidth('A 0', 1000)).toBeCloseTo(((1401 + 651 + 1303) / 2048) * 1000, -0.5);
    expect(textWidth('0', 1000, 'bold')).toBeCloseTo((1425 / 2048) * 1000, 0);
    expect(textWidth('', 12)).toBe(0);
  });

  it('has a width for the typographic characters of the formatter', () => {
    for (const character of ['\u2212', '\u2013', '\u202F', '\u00A0', '\u2264']) {
      expect(textWidth(character, 1000)).not.toBe(700);
    }
  });
});

describe('wrapping', () => {
  it('breaks at spaces only, and leaves no line too wide but a single word', () => {
    const lines = wrapText('Half of the severe feet were corrected by week 9', 120, 12);
    expect(lines.join(' ')).toBe('Half of the severe feet were corrected by week 9');
    expect(lines.length).toBeGreaterThan(1);
    for (const line of lines) expect(textWidth(line, 12)).toBeLessThanOrEqual(120);
    expect(wrapText('unbreakable', 10, 12)).toEqual(['unbreakable']);
    expect(wrapText('', 10, 12)).toEqual([]);
  });
});
