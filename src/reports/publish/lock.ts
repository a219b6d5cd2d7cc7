import { readFile, rm, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { PublishError } from './publish-error.ts';

const LOCK = '.lock';

/**
 * Keeps a reports folder to one run at a time. A lock of a run on this machine that no longer lives is taken over; one
 * of another machine cannot be told dead, and stands until somebody removes it.
 *
 * @returns gives the folder free again
 * @throws PublishError `locked`
 */
export async function lockFolder(folder: string): Promise<() => Promise<void>> {
  const path = join(folder, LOCK);
  const own = `${JSON.stringify({ pid: process.pid, host: hostname() })}\n`;
  for (let attempt = 0; attempt < 2; attempt++) {
    try {
      await writeFile(path, own, { flag: 'wx' });
      return () => rm(path, { force: true });
    } catch (error) {
      if (!(error instanceof Error && 'code' in error && error.code === 'EEXIST')) throw error;
      const holder = await holderOf(path);
      if (holder !== undefined && !isGone(holder)) {
        throw new PublishError(
          'locked',
          `${folder} is in use by process ${holder.pid} on ${holder.host}; wait for it to end, or remove ${path} if it is gone`,
        );
      }
      await rm(path, { force: true });
    }
  }
  throw new PublishError('locked', `${folder} is in use by another run; try again when it has ended`);
}

interface Holder {
  readonly pid: number;
  readonly host: string;
}

/** Who holds a lock; nothing for one that was written half. */
async function holderOf(path: string): Promise<Holder | undefined> {
  try {
    const { pid, host } = JSON.parse(await readFile(path, 'utf8')) as Partial<Holder>;
    return typeof pid === 'number' && typeof host === 'string' ? { pid, host } : undefined;
  } catch {
    return undefined;
  }
}

function isGone({ pid, host }: Holder): boolean {
  if (host !== hostname()) return false;
  try {
    process.kill(pid, 0);
    return false;
  } catch (error) {
    // A process that may not be signalled lives.
    return error instanceof Error && 'code' in error && error.code === 'ESRCH';
  }
}
