import { readFile, rm, stat, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { PublishError } from './publish-error.ts';

const LOCK = '.lock';

/**
 * Keeps a reports folder to one run at a time. A lock of a run on this machine that no longer lives is taken over, also
 * where its number has gone to another process since; one of another machine cannot be told dead, and stands until
 * somebody removes it.
 *
 * @returns gives the folder free again
 * @throws PublishError `locked`
 */
export async function lockFolder(folder: string): Promise<() => Promise<void>> {
  const path = join(folder, LOCK);
  const started = await startOf(process.pid);
  const own = `${JSON.stringify({ pid: process.pid, host: hostname(), started })}\n`;
  for (let attempt = 0; attempt < 2; attempt++) {
    try {
      await writeFile(path, own, { flag: 'wx' });
      return () => rm(path, { force: true });
    } catch (error) {
      if (!(error instanceof Error && 'code' in error && error.code === 'EEXIST')) throw error;
      const holder = await holderOf(path);
      if (holder !== undefined && !(await isGone(holder))) {
        throw new PublishError(
          'locked',
          `${folder} is in use by process ${holder.pid} on ${holder.host}${await sinceWhen(path)}; wait for it to end, or remove ${path} if it is gone`,
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
  /** Undefined where the system does not tell it. */
  readonly started: string | undefined;
}

/** Who holds a lock; nothing for one that was written half. */
async function holderOf(path: string): Promise<Holder | undefined> {
  try {
    const { pid, host, started } = JSON.parse(await readFile(path, 'utf8')) as Partial<Holder>;
    return typeof pid === 'number' && typeof host === 'string' ? { pid, host, started } : undefined;
  } catch {
    return undefined;
  }
}

async function isGone({ pid, host, started }: Holder): Promise<boolean> {
  if (host !== hostname()) return false;
  try {
    process.kill(pid, 0);
  } catch (error) {
    // A process that may not be signalled lives.
    if (error instanceof Error && 'code' in error && error.code === 'ESRCH') return true;
  }
  // A process of that number lives; it is another where it started at another time.
  const now = await startOf(pid);
  return started !== undefined && now !== undefined && now !== started;
}

/** When a process started: the boot of the machine and the ticks since, where the system tells them (Linux). */
async function startOf(pid: number): Promise<string | undefined> {
  try {
    const boot = await readFile('/proc/sys/kernel/random/boot_id', 'utf8');
    // Field 22; the name in parentheses before it may hold blanks.
    const fields = (await readFile(`/proc/${pid}/stat`, 'utf8')).replace(/^.*\) /s, '').split(' ');
    return `${boot.trim()}/${fields[19]}`;
  } catch {
    return undefined;
  }
}

async function sinceWhen(path: string): Promise<string> {
  const written = await stat(path).catch(() => undefined);
  return written === undefined
    ? ''
    : ` since ${written.mtime.toISOString().slice(0, 16).replace('T', ' ')} UTC`;
}
