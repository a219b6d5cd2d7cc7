// Reads the advance widths of DejaVu Sans (regular and bold) and writes src/figures/advance-widths.ts.
// Run after a change of font: node scripts/make-text-metrics.mjs
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
const ranges = [
  [0x20, 0x7e],
  [0xa0, 0xff],
  [0x2009, 0x2009],
  [0x2012, 0x2014],
  [0x2018, 0x201d],
  [0x2026, 0x2026],
  [0x202f, 0x202f],
  [0x2212, 0x2212],
  [0x2264, 0x2265],
];

function readWidths(file) {
  const bytes = readFileSync(require.resolve(`dejavu-fonts-ttf/ttf/${file}`));
  const tables = new Map();
  for (let i = 0; i < bytes.readUInt16BE(4); i++) {
    const at = 12 + 16 * i;
    tables.set(bytes.toString('latin1', at, at + 4), bytes.readUInt32BE(at + 8));
  }
  const unitsPerEm = bytes.readUInt16BE(tables.get('head') + 18);
  const longMetrics = bytes.readUInt16BE(tables.get('hhea') + 34);
  const glyphOf = characterMap(bytes, tables.get('cmap'));
  const width = code => {
    const glyph = Math.min(glyphOf(code), longMetrics - 1);
    return Math.round((bytes.readUInt16BE(tables.get('hmtx') + 4 * glyph) * 1000) / unitsPerEm);
  };
  return ranges.map(([first, last]) => {
    const widths = [];
    for (let code = first; code <= last; code++) widths.push(width(code));
    return { first, widths };
  });
}

/** The subtable for Unicode's basic plane (platform 3, encoding 1, format 4). */
function characterMap(bytes, cmap) {
  for (let i = 0; i < bytes.readUInt16BE(cmap + 2); i++) {
    const at = cmap + 4 + 8 * i;
    const table = cmap + bytes.readUInt32BE(at + 4);
    if (bytes.readUInt16BE(at) !== 3 || bytes.readUInt16BE(at + 2) !== 1) continue;
    if (bytes.readUInt16BE(table) !== 4) continue;
    const twice = bytes.readUInt16BE(table + 6);
    return code => {
      for (let s = 0; s < twice; s += 2) {
        if (bytes.readUInt16BE(table + 14 + s) < code) continue;
        const start = bytes.readUInt16BE(table + 16 + twice + s);
        if (start > code) return 0;
        const delta = bytes.readUInt16BE(table + 16 + 2 * twice + s);
        const place = table + 16 + 3 * twice + s;
        const offset = bytes.readUInt16BE(place);
        if (offset === 0) return (code + delta) & 0xffff;
        const glyph = bytes.readUInt16BE(place + offset + 2 * (code - start));
        return glyph === 0 ? 0 : (glyph + delta) & 0xffff;
      }
      return 0;
    };
  }
  throw new Error('the font has no character map for the basic plane');
}

const table = (name, runs) => {
  const body = runs.map(run => `  { first: ${run.first}, widths: [${run.widths.join(', ')}] },`).join('\n');
  return `export const ${name}: readonly WidthRun[] = [\n${body}\n];\n`;
};

writeFileSync(
  new URL('../src/figures/advance-widths.ts', import.meta.url),
  `// Advance widths of DejaVu Sans in thousandths of the type size. Made by scripts/make-text-metrics.mjs.

/** The widths of neighbouring characters, from code point \`first\` on. */
export interface WidthRun {
  readonly first: number;
  readonly widths: readonly number[];
}

${table('REGULAR_WIDTHS', readWidths('DejaVuSans.ttf'))}
${table('BOLD_WIDTHS', readWidths('DejaVuSans-Bold.ttf'))}`,
);
