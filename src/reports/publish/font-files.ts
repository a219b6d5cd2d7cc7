import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';

/** The faces of DejaVu that reports are set in. */
export type Face =
  | 'DejaVuSans'
  | 'DejaVuSans-Bold'
  | 'DejaVuSans-Oblique'
  | 'DejaVuSans-BoldOblique'
  | 'DejaVuSansCondensed'
  | 'DejaVuSansCondensed-Bold'
  | 'DejaVuSansCondensed-Oblique'
  | 'DejaVuSansMono';

/** The TrueType file of a face. */
export function fontFile(face: Face): Promise<Buffer> {
  const require = createRequire(import.meta.url);
  return readFile(require.resolve(`dejavu-fonts-ttf/ttf/${face}.ttf`));
}
