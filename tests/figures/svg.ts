import { DOMParser } from 'linkedom';

/** What the tests ask of an element of a parsed document. */
export interface DrawnElement {
  readonly textContent: string | null;
  readonly parentElement: DrawnElement | null;
  getAttribute(name: string): string | null;
  querySelector(selector: string): DrawnElement | null;
  querySelectorAll(selector: string): readonly DrawnElement[];
}

export interface Drawing extends Pick<DrawnElement, 'querySelector' | 'querySelectorAll'> {
  readonly documentElement: DrawnElement;
}

/** A piece of text in a drawing, with its place from the top left corner. */
export interface DrawnText {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly weight: string;
}

export function parseSvg(svg: string): Drawing {
  return new DOMParser().parseFromString(svg, 'image/svg+xml');
}

/** Every text of a drawing, one entry a line, with its place. */
export function drawnTexts(svg: string): readonly DrawnText[] {
  return [...parseSvg(svg).querySelectorAll('text')].map(element => ({
    text: element.textContent ?? '',
    ...placeOf(element),
    size: Number.parseFloat(element.getAttribute('font-size') ?? '0'),
    weight: element.getAttribute('font-weight') ?? 'normal',
  }));
}

/** The sum of the shifts of an element and everything around it; the drawings use no other transform but rotation. */
export function placeOf(element: DrawnElement): { readonly x: number; readonly y: number } {
  let x = 0;
  let y = 0;
  for (let at: DrawnElement | null = element; at !== null; at = at.parentElement) {
    const shift = /translate\(([-\d.]+)[, ]([-\d.]+)\)/.exec(at.getAttribute('transform') ?? '');
    x += Number(shift?.[1] ?? 0);
    y += Number(shift?.[2] ?? 0);
  }
  return { x, y };
}

/** The horizontal reach of a path from the left edge of the drawing. */
export function pathReach(path: DrawnElement): { readonly left: number; readonly right: number } {
  const numbers = [...(path.getAttribute('d') ?? '').matchAll(/[ML]?(-?[\d.]+),(-?[\d.]+)|H(-?[\d.]+)/g)];
  const xs = numbers.map(match => Number(match[1] ?? match[3]));
  const { x } = placeOf(path);
  return { left: Math.min(...xs) + x, right: Math.max(...xs) + x };
}
