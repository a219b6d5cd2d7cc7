// Colours after Okabe M, Ito K. Color Universal Design (2008): told apart under the common colour-vision deficiencies.

export const INK = '#1a1a1a';
export const QUIET_INK = '#595959';
export const RULE = '#c8c8c8';
export const PAPER = '#ffffff';

/** The face of charts; what does not have the first takes the next. */
export const CHART_FACE = '"DejaVu Sans", Verdana, system-ui, sans-serif';

/** How the line of one group is drawn. `text` is the darker colour of its label, with 4.5 to 1 and more on white. */
export interface LineMark {
  readonly colour: string;
  readonly text: string;
  readonly width: number;
  /** Lengths of dash and gap; empty for a solid line. */
  readonly dash: readonly number[];
}

/** Severity is an order, so its marks are one: weight grows and dash shortens from mild to severe, so that grey print keeps it. */
export const SEVERITY_MARKS: Readonly<Record<'mild' | 'moderate' | 'severe', LineMark>> = {
  mild: { colour: '#0072B2', text: '#005C91', width: 1.5, dash: [12, 4] },
  moderate: { colour: '#009E73', text: '#00694D', width: 2.25, dash: [5, 3] },
  severe: { colour: '#D55E00', text: '#A84A00', width: 3.25, dash: [] },
};

/** Phases and the steps between them: one hue from dark to light, apart from the hues of severity. */
export const PHASE_MARKS: readonly LineMark[] = [
  { colour: '#3B1F5B', text: '#3B1F5B', width: 2.5, dash: [] },
  { colour: '#6A4C93', text: '#6A4C93', width: 2.25, dash: [7, 3] },
  { colour: '#8E78B0', text: '#6F5A92', width: 2, dash: [3, 3] },
  { colour: '#5E5E66', text: '#5E5E66', width: 1.5, dash: [1.5, 3] },
];

/** Areas of the states of therapy, longest hours first, then finished and left: the hue of the phases, ever lighter. */
export const OCCUPANCY_SHADES: readonly string[] = ['#3B1F5B', '#6A4C93', '#A08CBF', '#D3C8E3', '#EFEBF5'];

/** Shares of a calendar, none first: one hue, apart from those of severity and of phases. */
export const CALENDAR_SHADES: readonly string[] = [
  '#FFFFFF',
  '#E3EDF2',
  '#B9D3E0',
  '#86B0C6',
  '#3F7894',
  '#1B4B65',
];

/** A curve of all feet together. */
export const WHOLE_MARK: LineMark = { colour: INK, text: INK, width: 2.25, dash: [] };

/** The marks of the groups of one figure, in order: by band, alone, or along the ramp of phases. */
export function lineMarks(groups: readonly string[]): readonly LineMark[] {
  return groups.map((group, place) => {
    if (group === 'mild' || group === 'moderate' || group === 'severe') return SEVERITY_MARKS[group];
    if (groups.length === 1 || group === 'all') return WHOLE_MARK;
    return PHASE_MARKS[Math.min(place, PHASE_MARKS.length - 1)] ?? WHOLE_MARK;
  });
}

/** Contrast of two colours (#rrggbb) as defined by WCAG 2.2: relative luminances, each plus 0.05, the lighter over the darker. */
export function contrastRatio(a: string, b: string): number {
  const [light, dark] = [relativeLuminance(a), relativeLuminance(b)].sort((x, y) => y - x);
  return ((light ?? 0) + 0.05) / ((dark ?? 0) + 0.05);
}

function relativeLuminance(colour: string): number {
  const part = (from: number): number => {
    const value = Number.parseInt(colour.slice(from, from + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
}
