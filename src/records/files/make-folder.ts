import { mkdir, stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';

/**
 * Makes a folder and those above it, each by itself: in a file system that holds no folders of its users, such as that
 * of the processes, a folder that cannot be made is then an error and not tried for ever.
 */
export async function makeFolder(path: string, mode?: number): Promise<void> {
  const missing: string[] = [];
  let at = resolve(path);
  while ((await stat(at).catch(() => undefined)) === undefined && dirname(at) !== at) {
    missing.push(at);
    at = dirname(at);
  }
  for (const folder of missing.reverse()) {
    await mkdir(folder, mode === undefined ? {} : { mode }).catch((error: NodeJS.ErrnoException) => {
      // Another run may have made it in the meantime.
      if (error.code !== 'EEXIST') throw error;
    });
  }
}
