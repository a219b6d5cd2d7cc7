/** Whether a font has a glyph for a character, given by its code point. */
export type Coverage = (code: number) => boolean;

/**
 * The characters that a TrueType font can show, read from its table of characters (OpenType 1.9, `cmap`, formats 4 and
 * 12 of platform 3 or 0).
 *
 * @throws RangeError for a file without such a table
 */
export function glyphCoverage(font: Uint8Array): Coverage {
  const view = new DataView(font.buffer, font.byteOffset, font.byteLength);
  const cmap = tableStart(view, 'cmap');
  const offered = Array.from({ length: view.getUint16(cmap + 2) }, (_, i) => {
    const start = cmap + view.getUint32(cmap + 4 + 8 * i + 4);
    return { start, format: view.getUint16(start) };
  });
  const best = offered.find(({ format }) => format === 12) ?? offered.find(({ format }) => format === 4);
  if (best === undefined) throw new RangeError('the font has no table of characters in format 4 or 12');
  const ranges = best.format === 12 ? longRanges(view, best.start) : shortRanges(view, best.start);
  return code => ranges.some(range => code >= range.first && code <= range.last && range.has(code));
}

interface CodeRange {
  readonly first: number;
  readonly last: number;
  readonly has: Coverage;
}

function longRanges(view: DataView, table: number): readonly CodeRange[] {
  return Array.from({ length: view.getUint32(table + 12) }, (_, i) => {
    const at = table + 16 + 12 * i;
    const first = view.getUint32(at);
    const glyph = view.getUint32(at + 8);
    return { first, last: view.getUint32(at + 4), has: code => glyph + code - first !== 0 };
  });
}

function shortRanges(view: DataView, table: number): readonly CodeRange[] {
  const twice = view.getUint16(table + 6);
  return Array.from({ length: twice / 2 }, (_, i) => {
    const last = view.getUint16(table + 14 + 2 * i);
    const first = view.getUint16(table + 16 + twice + 2 * i);
    const delta = view.getUint16(table + 16 + 2 * twice + 2 * i);
    const place = table + 16 + 3 * twice + 2 * i;
    const offset = view.getUint16(place);
    const has: Coverage = code => {
      if (offset === 0) return ((code + delta) & 0xffff) !== 0;
      return view.getUint16(place + offset + 2 * (code - first)) !== 0;
    };
    return { first, last, has };
  });
}

function tableStart(view: DataView, name: string): number {
  for (let i = 0; i < view.getUint16(4); i++) {
    const at = 12 + 16 * i;
    const tag = String.fromCharCode(...[0, 1, 2, 3].map(k => view.getUint8(at + k)));
    if (tag === name) return view.getUint32(at + 8);
  }
  throw new RangeError(`the font has no table ${name}`);
}

/**
 * A text of which every character can be shown: others stand as U+FFFD, so that a reader sees that something is
 * missing. Line ends and tabs are kept.
 */
export function shownText(text: string, covers: Coverage): string {
  let shown = '';
  for (const character of text) {
    const code = character.codePointAt(0) ?? 0;
    const plain = (code >= 0x20 && code < 0x7f) || code === 0x0a || code === 0x09;
    shown += plain || covers(code) ? character : '\uFFFD';
  }
  return shown;
}
