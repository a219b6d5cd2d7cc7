/** The first sentence of a text: up to the first stop that is followed by a space and a capital. */
export function firstSentence(text: string): string {
  const end = /[.!?](?=\s+\p{Lu})/u.exec(text);
  return end === null ? text.trim() : text.slice(0, end.index + 1).trim();
}
