import { formatDecimal, formatPercentNumber, formatPValue, isoDate } from '../../src/wording/format.ts';

// How a number on a page is traced to the findings.
//
// 1. A page is cut into words at everything but letters, digits, points, thin spaces between digits and minus signs.
//    A word counts if it holds a digit.
// 2. A word that is a numeral must be a number of the findings as the formatter may print it (see `printed`), or stand
//    in a text of the findings.
// 3. A word that mixes letters and digits (a hash, a file name, a version) must stand whole in a text of the findings.
// 4. Three kinds of sums are reckoned by the report: totals over the files read, totals over the problems, and the
//    share of a count among the number beside it in the same row.
// 5. Not numbers of the findings, and taken off before: numbers of figures, tables and references, the list of works
//    cited, and the ticks of an axis, which stand in the published specification of the figure.

/** The words of a text that hold a digit, thousands joined. */
export function numberWords(text: string): readonly string[] {
  const joined = text.replace(/(?<=\d)\u202F(?=\d{3}(?!\d))/g, '');
  const words = joined.match(/[\p{L}\p{N}._\u2212]+/gu) ?? [];
  return words.map(word => word.replace(/\.+$/, '').replace(/^\.(?!\d)/, '')).filter(word => /\d/.test(word));
}

/** Every word in which the formatter may print a number: with 0 to 3 decimals, as a percentage, as a p-value. */
export function printed(value: number): readonly string[] {
  const ways = [0, 1, 2, 3].map(decimals => formatDecimal(value, decimals));
  if (value >= 0 && value <= 1) {
    ways.push(formatPercentNumber(value), formatPercentNumber(value, 1000), formatPValue(value));
  }
  ways.push(String(value));
  return ways.flatMap(numberWords);
}

/** The words that a part of the findings allows on a page. */
export function allowedWords(part: unknown): Set<string> {
  const words = new Set<string>();
  collect(part, words);
  return words;
}

function collect(part: unknown, words: Set<string>): void {
  if (typeof part === 'number') for (const word of printed(part)) words.add(word);
  else if (typeof part === 'string') for (const word of numberWords(part)) words.add(word);
  else if (Array.isArray(part)) for (const item of part) collect(item, words);
  else if (typeof part === 'object' && part !== null) {
    // A label of a group or a field may be printed as well.
    for (const key of Object.keys(part)) for (const word of numberWords(key)) words.add(word);
    for (const value of Object.values(part)) collect(value, words);
    for (const share of shares(part)) for (const word of printed(share)) words.add(word);
  }
}

/** The shares that a cell or a row gives: a count of a number named beside it. */
function shares(part: object): readonly number[] {
  const values = part as Readonly<Record<string, unknown>>;
  const share = (count: unknown, of: unknown): readonly number[] =>
    typeof count === 'number' && typeof of === 'number' && of > 0 ? [count / of] : [];
  return [
    ...share(values.count, values.of),
    ...Object.keys(values).flatMap(key => share(values[key], values[`${key}.n`] ?? values.n)),
  ];
}

/** A calendar date, kept as a count of days, as the page may print it. */
export function dateWords(daysSince1970: number): readonly string[] {
  return isoDate(daysSince1970)
    .split('-')
    .flatMap(part => [part, String(Number(part))]);
}
