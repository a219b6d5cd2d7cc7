/** Text made safe for HTML, in an element or in a quoted attribute; characters that HTML cannot hold become U+FFFD. */
export function escapeHtml(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\u007E\u00A0-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, '\uFFFD')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

/** A key as an id: letters, digits and hyphens, after a prefix that says what it is. */
export function htmlId(prefix: string, key: string): string {
  return `${prefix}-${key.replace(/[^A-Za-z0-9]+/g, '-')}`;
}
