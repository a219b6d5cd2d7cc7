import { allowedIn } from '../../dictionary.ts';
import type { Field } from '../../dictionary/field.ts';
import { harmlessValue } from '../../privacy/harmless.ts';
import { identifyingValue } from '../../privacy/identifying-value.ts';
import { plainWords } from '../../privacy/plain-words.ts';
import { SYNONYMS } from '../../privacy/synonyms.ts';
import type { Question } from './draft-source.ts';

/** Texts in a column of words that are asked about one by one. */
const MOST_ASKED = 12;

/** What the texts of a column mean in the words of the dictionary; a text with no one meaning is asked about. */
export function draftWords(
  where: string,
  field: Field,
  values: ReadonlyMap<string, number>,
): { readonly words: Readonly<Record<string, string>>; readonly unsettled: readonly Question[] } {
  const allowed = field.type === 'category' ? field.categories.map(({ value }) => value) : ['yes', 'no'];
  const words: Record<string, string> = {};
  const unknown: string[] = [];
  for (const text of values.keys()) {
    if (allowed.includes(text)) continue;
    const plain = plainWords(text);
    const meanings = allowed.filter(word => plainWords(word) === plain || SYNONYMS[word]?.includes(plain));
    const [meaning, other] = meanings;
    if (meaning === undefined || other !== undefined) unknown.push(text);
    else words[text] = meaning;
  }
  const unsettled = unknown.slice(0, MOST_ASKED).map(text => ({
    where,
    question: `what does ${spoken(text, values.get(text) ?? 0)} mean for ${field.name}: ${allowedIn(field)}`,
  }));
  if (unknown.length > MOST_ASKED) {
    const question = `what do ${unknown.length - MOST_ASKED} more texts mean for ${field.name}`;
    unsettled.push({ where, question });
  }
  return { words, unsettled };
}

const LONGEST_WORD = 30;

/** A word of a vocabulary recurs; a name strayed into its column does not. */
const OF_A_WORD = 3;

/** A draft is read by people: what may name a person is not put into it. */
export function spoken(text: string, times: number): string {
  const shown =
    harmlessValue(text) ||
    (times >= OF_A_WORD && text.length <= LONGEST_WORD && identifyingValue(text) === undefined);
  return shown ? `"${text}"` : 'a text that is not shown here';
}
