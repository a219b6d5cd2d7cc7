import type { Identifying } from './header-words.ts';
import { HEADER_WORDS } from './header-words.ts';
import { plainWords } from './plain-words.ts';

/** Words from this length on are looked for within longer words too, as in `Notfalltelefonnummer`. */
const LONG_WORD = 7;

const LONGEST_LOOKED_AT = 200;

/** What a column gives away by its header, or undefined if the header says nothing of the kind. */
export function identifyingHeader(header: string): Identifying | undefined {
  const plain = plainWords(header.slice(0, LONGEST_LOOKED_AT));
  const padded = ` ${plain} `;
  const joined = plain.replaceAll(' ', '');
  for (const [what, words] of HEADER_WORDS) {
    for (const word of words) {
      if (padded.includes(` ${word} `)) return what;
      if (word.length >= LONG_WORD && joined.includes(word.replaceAll(' ', ''))) return what;
    }
  }
  return undefined;
}
