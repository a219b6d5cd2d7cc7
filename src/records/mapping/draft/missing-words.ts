import { plainWords } from '../../privacy/plain-words.ts';

const MISSING = new Set([
  'na',
  'n a',
  'nan',
  'null',
  'none',
  'missing',
  'k a',
  'nd',
  'nr',
  'not recorded',
  'unbekannt',
]);

/** Whether a text in a column of numbers or dates stands for a missing value. */
export function meansMissing(text: string): boolean {
  const plain = plainWords(text);
  return plain === '' || MISSING.has(plain);
}
