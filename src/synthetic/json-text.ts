/** A plain document as indented JSON whose arrays of numbers stay on one line. */
export function jsonText(document: unknown): string {
  const indented = JSON.stringify(document, undefined, 2);
  return `${indented.replace(/\[\s+(-?[\d.][^[\]{}"]*?)\s+\]/g, (_, inner: string) => `[${inner.split(/,\s+/).join(', ')}]`)}\n`;
}
