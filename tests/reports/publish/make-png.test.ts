import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { makePng } from '../../../src/reports/publish/make-png.ts';

const svg = (inner: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="40" height="20" viewBox="0 0 40 20"><rect width="40" height="20" fill="#fff"/>${inner}</svg>`;
const words = (family: string): string =>
  svg(`<text x="2" y="15" font-family="${family}" font-size="12">Abc</text>`);

/** The lines of picture data of a PNG, unpacked. */
function pixels(png: Uint8Array): Buffer {
  const bytes = Buffer.from(png);
  const parts: Buffer[] = [];
  for (let at = 8; at < bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    if (bytes.toString('latin1', at + 4, at + 8) === 'IDAT')
      parts.push(bytes.subarray(at + 8, at + 8 + length));
    at += 12 + length;
  }
  return inflateSync(Buffer.concat(parts));
}

describe('a drawing as PNG', () => {
  it('is twice as large as drawn', async () => {
    const png = Buffer.from(await makePng(svg('')));
    expect(png.toString('latin1', 1, 4)).toBe('PNG');
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([80, 40]);
  });

  it('shows its texts, in the face of the charts whatever the machine has', async () => {
    const blank = pixels(await makePng(svg('')));
    const charts = pixels(await makePng(words('&quot;DejaVu Sans&quot;, Verdana, sans-serif')));
    const lacking = pixels(await makePng(words('No Such Face')));
    expect(charts.equals(blank)).toBe(false);
    expect(lacking.equals(charts)).toBe(true);
  });

  it('is the same bytes twice', async () => {
    const [one, two] = [await makePng(words('DejaVu Sans')), await makePng(words('DejaVu Sans'))];
    expect(Buffer.from(one).equals(Buffer.from(two))).toBe(true);
  });

  it('is not made from what is no drawing', async () => {
    await expect(makePng('no drawing')).rejects.toBeDefined();
  });
});
