import { describe, expect, it } from 'vitest';
import { glyphCoverage, shownText } from '../../../src/reports/pdf/glyph-coverage.ts';
import { fontFile } from '../../../src/reports/publish/font-files.ts';

describe('the characters of a face', () => {
  // The list of DejaVu's own documentation (unicover.txt) has these blocks, and no ideographs.
  it('are read from its file', async () => {
    const covers = glyphCoverage(await fontFile('DejaVuSans'));
    for (const character of 'Az09\u00E9\u2212\u202F\u2013\u2265\u03B1\u0416\uFFFD') {
      expect({ character, covered: covers(character.codePointAt(0) ?? 0) }).toEqual({
        character,
        covered: true,
      });
    }
    for (const code of [0x65e5, 0x1f9b6, 0x0001, 0x10ffff]) expect(covers(code)).toBe(false);
  });

  it('cannot be read from what is no font', () => {
    expect(() => glyphCoverage(new Uint8Array(64))).toThrow('the font has no table cmap');
  });

  it('settle which stand as a replacement', () => {
    expect(shownText('a\u65e5\n\tb', code => code < 0x80)).toBe('a\uFFFD\n\tb');
    expect(shownText('\u{1F9B6}', () => false)).toBe('\uFFFD');
  });
});
