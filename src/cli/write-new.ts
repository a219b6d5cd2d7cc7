import { rm, writeFile } from 'node:fs/promises';
import { UserError } from './command.ts';
import { fileSystemText } from './file-system-text.ts';

/** Writes a file that is not there yet; one that cannot be written to its end is taken away again. */
export async function writeNew(path: string, content: string | Uint8Array): Promise<void> {
  try {
    await writeFile(path, content, { flag: 'wx' });
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    // What could not be opened was not made by this run.
    const opened = error instanceof Error && 'syscall' in error && error.syscall !== 'open';
    if (opened) await rm(path, { force: true });
    const reason = opened && error instanceof Error ? fileSystemText(error) : code;
    throw new UserError(`${path} cannot be made (${reason}); allowed: a new file`, { cause: error });
  }
}
