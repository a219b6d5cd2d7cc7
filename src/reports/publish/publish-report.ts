import type { ReportDocument } from '../document.ts';
import type { FindingsInput } from '../findings-document.ts';
import { compilePdf } from '../pdf/compile.ts';
import { type ReportFile, reportFiles } from '../report-files.ts';
import { makePng } from './make-png.ts';
import { publishFolder } from './publish-folder.ts';

/**
 * Publishes one report as a folder that opens from a file system: `index.html`, `findings.json`, `tables/`, `figures/`
 * and, if asked for, `report.pdf`. Everything is made before anything is moved into place.
 *
 * @returns the absolute path of the folder
 * @throws PublishError as `publishFolder`
 */
export async function publishReport(
  folder: string,
  document: ReportDocument,
  input: FindingsInput,
  { pdf = false, ...options }: { readonly replace?: boolean; readonly pdf?: boolean } = {},
): Promise<string> {
  return publishFolder(folder, await madeFiles(document, input, { pdf }), options);
}

/** Every file of a report in all formats; the PDF if asked for. */
export async function madeFiles(
  document: ReportDocument,
  input: FindingsInput,
  { pdf = false }: { readonly pdf?: boolean } = {},
): Promise<readonly ReportFile[]> {
  return reportFiles(document, input, { png: makePng, ...(pdf ? { pdf: compilePdf } : {}) });
}
