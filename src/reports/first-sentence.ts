/** The first sentence of a text: up to the first stop that is followed by a space and a capital. */
export function firstSentence(text: string): string {
  const end = /[.!?](?=\s+\p{Lu})/u.exec(text);
  return end === null ? text.trim() : text.slice(0, end.index + 1).trim();
}

/** Every sentence of a text, cut where `firstSentence` cuts. */
export function sentences(text: string): readonly string[] {
  const found: string[] = [];
  for (let rest = text.trim(); rest !== ''; ) {
    const first = firstSentence(rest);
    found.push(first);
    rest = rest.slice(first.length).trim();
  }
  return found;
}
