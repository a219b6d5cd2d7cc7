import { plainWords } from '../../privacy/plain-words.ts';
import { SYNONYMS } from '../../privacy/synonyms.ts';

/** A column, or all columns whose headers differ in the side or in a number alone. */
export interface WideColumn {
  /** The header, with `{side}` and `{n}` for what differs. */
  readonly template: string;
  /** How the header writes left and right. */
  readonly sides: readonly [string, string] | undefined;
  /** The numbers as they are written, in order. */
  readonly numbers: readonly string[] | undefined;
  readonly places: readonly number[];
  /** The words of the header without side and number, plain. */
  readonly words: string;
}

const LEFT = new Set(SYNONYMS.left);
const RIGHT = new Set(SYNONYMS.right);
const WORD = /\p{Lu}?\p{Ll}+|\p{Lu}+(?!\p{Ll})|\d+/gu;

interface Reading {
  readonly place: number;
  readonly template: string;
  readonly side: string | undefined;
  readonly number: string | undefined;
}

/**
 * Puts together the columns of a header that repeat for each foot, for each visit, phase, event or day. A word is taken
 * for a side only if the same header stands there for the other side, and a number only if it stands there with another.
 */
export function wideColumns(header: readonly string[]): readonly WideColumn[] {
  const names = header.map(name => name.trim());
  const sided = bySide(names);
  const groups = new Map<string, Reading[]>();
  const counted = countedTemplates(names, sided);
  for (const [place, name] of names.entries()) {
    if (name === '') continue;
    const side = sided.get(place);
    const base = side?.template ?? name;
    const { template, number } = numbered(base);
    const isCounted = (counted.get(template)?.size ?? 0) > 1;
    const key = isCounted ? template : base;
    const own = { place, template: key, side: side?.side, number: isCounted ? number : undefined };
    const known = groups.get(key);
    if (known === undefined) groups.set(key, [own]);
    else known.push(own);
  }
  return [...groups.values()].map(readings => {
    const [first] = readings;
    const template = first?.template ?? '';
    const numbers = [...new Set(readings.flatMap(({ number }) => number ?? []))];
    return {
      template,
      sides: first?.side === undefined ? undefined : sided.get(first.place)?.sides,
      numbers: numbers.length === 0 ? undefined : numbers.sort((a, b) => Number(a) - Number(b)),
      places: readings.map(({ place }) => place),
      words: plainWords(template.replaceAll('{side}', ' ').replaceAll('{n}', ' ')),
    };
  });
}

interface Sided {
  readonly template: string;
  readonly side: string;
  readonly sides: readonly [string, string];
}

/** Columns that stand there for the other side as well. */
function bySide(names: readonly string[]): ReadonlyMap<number, Sided> {
  const found = new Map<string, { left?: readonly [number, string]; right?: readonly [number, string] }>();
  for (const [place, name] of names.entries()) {
    for (const match of name.matchAll(WORD)) {
      const [text] = match;
      const word = plainWords(text);
      const side = LEFT.has(word) ? 'left' : RIGHT.has(word) ? 'right' : undefined;
      if (side === undefined) continue;
      const template = `${name.slice(0, match.index)}{side}${name.slice(match.index + text.length)}`;
      found.set(template, { ...found.get(template), [side]: [place, text] });
    }
  }
  const sided = new Map<number, Sided>();
  for (const [template, { left, right }] of found) {
    if (left === undefined || right === undefined) continue;
    const sides = [left[1], right[1]] as const;
    sided.set(left[0], { template, side: left[1], sides });
    sided.set(right[0], { template, side: right[1], sides });
  }
  return sided;
}

/** The numbers with which each header stands there. */
function countedTemplates(
  names: readonly string[],
  sided: ReadonlyMap<number, Sided>,
): ReadonlyMap<string, ReadonlySet<string>> {
  const found = new Map<string, Set<string>>();
  for (const [place, name] of names.entries()) {
    const { template, number } = numbered(sided.get(place)?.template ?? name);
    if (number === undefined) continue;
    const known = found.get(template) ?? new Set<string>();
    found.set(template, known.add(number));
  }
  return found;
}

/** A header with its first number taken out. */
function numbered(name: string): { readonly template: string; readonly number: string | undefined } {
  const match = /\d+/.exec(name);
  if (match === null) return { template: name, number: undefined };
  const [number] = match;
  return { template: `${name.slice(0, match.index)}{n}${name.slice(match.index + number.length)}`, number };
}

/** Numbers as a mapping writes them: `1..18` if none is left out, else a list. */
export function numberRange(numbers: readonly string[]): string | readonly string[] {
  const [first = '', last = ''] = [numbers[0], numbers[numbers.length - 1]];
  const whole = numbers.every((number, i) => number === String(Number(first) + i));
  return whole && last.length <= 4 ? `${first}..${last}` : numbers;
}
