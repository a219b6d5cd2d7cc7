import { describe, expect, it } from 'vitest';
import {
  contrastRatio,
  type LineMark,
  lineMarks,
  PHASE_MARKS,
  SEVERITY_MARKS,
  WHOLE_MARK,
} from '../../src/figures/palette.ts';

const every: readonly LineMark[] = [...Object.values(SEVERITY_MARKS), ...PHASE_MARKS, WHOLE_MARK];

/** Share of a dashed line that is ink. */
function inkShare({ dash }: LineMark): number {
  const total = dash.reduce((sum, part) => sum + part, 0);
  return total === 0 ? 1 : (dash[0] ?? 0) / total;
}

describe('colours', () => {
  it('reckons contrast as WCAG 2.2 does: black on white is 21', () => {
    expect(contrastRatio('#000000', '#ffffff')).toBeCloseTo(21, 10);
    expect(contrastRatio('#777777', '#ffffff')).toBeCloseTo(4.478, 3);
  });

  it('keeps lines at 3 to 1 and labels at 4.5 to 1 on white', () => {
    for (const mark of every) {
      expect(contrastRatio(mark.colour, '#ffffff')).toBeGreaterThanOrEqual(3);
      expect(contrastRatio(mark.text, '#ffffff')).toBeGreaterThanOrEqual(4.5);
    }
  });
});

describe('marks of severity', () => {
  const { mild, moderate, severe } = SEVERITY_MARKS;

  it('grow in weight and shorten in dash from mild to severe', () => {
    expect(mild.width).toBeLessThan(moderate.width);
    expect(moderate.width).toBeLessThan(severe.width);
    expect(mild.dash[0]).toBeGreaterThan(moderate.dash[0] ?? 0);
    expect(severe.dash).toEqual([]);
  });

  it('share no colour and no dash with the marks of phases', () => {
    const colours = new Set(Object.values(SEVERITY_MARKS).map(mark => mark.colour));
    expect(PHASE_MARKS.some(mark => colours.has(mark.colour))).toBe(false);
    expect(new Set(PHASE_MARKS.map(mark => `${mark.width} ${mark.dash.join()}`)).size).toBe(
      PHASE_MARKS.length,
    );
    expect(Math.min(...every.map(inkShare))).toBeGreaterThan(0.3);
  });

  it('go by the name of the group, whatever its place', () => {
    expect(lineMarks(['severe', 'mild'])).toEqual([severe, mild]);
    expect(lineMarks(['all feet'])).toEqual([WHOLE_MARK]);
    expect(lineMarks(['24 to 15', '15 to 12'])).toEqual(PHASE_MARKS.slice(0, 2));
  });
});
