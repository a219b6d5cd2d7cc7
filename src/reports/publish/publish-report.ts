import type { ReportDocument } from '../document.ts';
import type { FindingsInput } from '../findings-document.ts';
import { reportFiles } from '../report-files.ts';
import { publishFolder } from './publish-folder.ts';

/**
 * Publishes one report as a folder that opens from a file system: `index.html`, `findings.json`, `tables/` and
 * `figures/`. Everything is made before anything is moved into place.
 *
 * @returns the absolute path of the folder
 * @throws PublishError as `publishFolder`
 */
export async function publishReport(
  folder: string,
  document: ReportDocument,
  input: FindingsInput,
  options: { readonly replace?: boolean } = {},
): Promise<string> {
  return publishFolder(folder, await reportFiles(document, input), options);
}
