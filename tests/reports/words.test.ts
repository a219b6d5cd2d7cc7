import { describe, expect, it } from 'vitest';
import { CITATION_KEYS, citedWork } from '../../src/reports/citations.ts';
import { cellText, measureText } from '../../src/reports/cell-text.ts';
import { firstSentence } from '../../src/reports/first-sentence.ts';
import { THIN_SPACE } from '../../src/wording/format.ts';

describe('a cell in words', () => {
  it.each([
    ['count', 12, '12'],
    ['count', 12.4, '12.4'],
    ['mixed', 12, '12'],
    ['mixed', { count: 3, of: 12 }, `3/12 (25${THIN_SPACE}%)`],
    ['mixed', { median: 14.2, lowerQuartile: 9.1, upperQuartile: 21.4 }, '14.2 (9.1 to 21.4)'],
    ['mixed', { median: 14, lowerQuartile: 9, upperQuartile: 21.4 }, '14.0 (9.0 to 21.4)'],
    ['proportion', { estimate: 0.5, lower: 0.41, upper: 0.6 }, '50 (41 to 60)'],
    ['time', { estimate: 9.12, lower: 8 }, '9.1 (8.0 to not reached)'],
    ['time', 'not reached', 'not reached'],
    ['p-value', 0.0004, `<${THIN_SPACE}.001`],
    ['text', '24 to 15', '24 to 15'],
    ['number', undefined, '\u2013'],
    ['percent of n', 3, `3/12 (25${THIN_SPACE}%)`],
  ] as const)('of kind %s, %j, is %s', (kind, value, text) => {
    expect(cellText({ key: 'x', label: 'X', kind }, { x: value, n: 12 })).toBe(text);
  });

  it('names the state of a measure without an estimate', () => {
    const measure = { key: 'median', label: 'Median', kind: 'time', unit: 'weeks' } as const;
    expect(measureText({ ...measure, state: 'not reached' })).toBe('not reached');
    expect(measureText({ ...measure, estimate: 9 })).toBe('9.0');
  });
});

describe('the first sentence', () => {
  it.each([
    ['Half by week 9.1 (8.0 to 10.1). The rest later.', 'Half by week 9.1 (8.0 to 10.1).'],
    ['P = .03 for the trend. Next.', 'P = .03 for the trend.'],
    ['Only one', 'Only one'],
    ['', ''],
  ])('of %j is %j', (text, sentence) => {
    expect(firstSentence(text)).toBe(sentence);
  });
});

describe('works cited', () => {
  it('have an entry under every key, with ranges in en dashes and a full stop at the end', () => {
    for (const key of CITATION_KEYS) {
      expect(citedWork(key)).toMatch(/\d{4}.*\.$/);
      expect(citedWork(key)).not.toMatch(/\d-\d/);
    }
  });

  it('that are not listed are refused', () => {
    expect(() => citedWork('nobody-1900')).toThrow('citation key nobody-1900');
    expect(() => citedWork('toString')).toThrow('citation key toString');
  });
});
