import { createHmac, randomBytes } from 'node:crypto';
import { open, readFile, stat } from 'node:fs/promises';
import { FolderError } from './quarantine.ts';

/** Bytes of a key: as many as SHA-256 gives. */
const KEY_BYTES = 32;
const KEY = /^[0-9a-f]{64}\s*$/;
const OTHERS = 0o077;
const CODE_LENGTH = 20;

/**
 * Makes a key file that only its owner may read.
 *
 * @throws FolderError if there is something at the path already: a key that is lost cannot be made again
 */
export async function createKey(path: string): Promise<void> {
  const file = await open(path, 'wx', 0o600).catch((error: NodeJS.ErrnoException) => {
    throw new FolderError(`${path} cannot be made (${error.code}); allowed: a new file for the key`);
  });
  try {
    await file.writeFile(`${randomBytes(KEY_BYTES).toString('hex')}\n`);
  } finally {
    await file.close();
  }
}

/** @throws FolderError if there is no key at the path, or others may read it */
export async function readKey(path: string): Promise<Buffer> {
  const entry = await stat(path).catch(() => undefined);
  if (entry?.isFile() !== true)
    throw new FolderError(`${path} is no key file; allowed: one made with --new-key`);
  if (process.platform !== 'win32' && (entry.mode & OTHERS) !== 0) {
    throw new FolderError(`${path} may be read by others; allowed: a key file that only its owner may read`);
  }
  const text = entry.size > 1024 ? '' : await readFile(path, 'utf8');
  if (!KEY.test(text))
    throw new FolderError(`${path} holds no key; allowed: ${KEY_BYTES} bytes in hexadecimal`);
  return Buffer.from(text.trim(), 'hex');
}

/**
 * Makes codes: the first 80 bits of HMAC-SHA-256 (RFC 2104) of what the code is of and the text, in hexadecimal. A
 * million codes of one kind have a chance of one in 2 trillion to meet.
 */
export function codeMaker(key: Buffer): (kind: string, text: string) => string {
  const known = new Map<string, string>();
  return (kind, text) => {
    const subject = `${kind}\n${text}`;
    let code = known.get(subject);
    if (code === undefined) {
      code = `${kind}-${createHmac('sha256', key).update(subject).digest('hex').slice(0, CODE_LENGTH)}`;
      known.set(subject, code);
    }
    return code;
  };
}
