import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import { fontFile } from './font-files.ts';

/** Pixels of the picture for one of the drawing. */
const SCALE = 2;

interface Rasteriser {
  readonly fonts: readonly Uint8Array[];
}

let ready: Promise<Rasteriser> | undefined;

/**
 * A drawing as PNG, twice as large as drawn, in DejaVu Sans as the charts ask. No font of the machine takes part, so the
 * same drawing gives the same bytes everywhere.
 *
 * @throws Error for a text that is no SVG
 */
export async function makePng(svg: string): Promise<Uint8Array> {
  ready ??= prepare();
  const { fonts } = await ready;
  const drawing = new Resvg(svg, {
    fitTo: { mode: 'zoom', value: SCALE },
    font: { fontBuffers: [...fonts], defaultFontFamily: 'DejaVu Sans', sansSerifFamily: 'DejaVu Sans' },
  });
  try {
    const picture = drawing.render();
    try {
      return picture.asPng();
    } finally {
      picture.free();
    }
  } finally {
    drawing.free();
  }
}

async function prepare(): Promise<Rasteriser> {
  const require = createRequire(import.meta.url);
  const [program, ...fonts] = await Promise.all([
    readFile(require.resolve('@resvg/resvg-wasm/index_bg.wasm')),
    fontFile('DejaVuSans'),
    fontFile('DejaVuSans-Bold'),
  ]);
  await initWasm(program);
  return { fonts };
}
