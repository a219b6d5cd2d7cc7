const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'there is no permission for it',
  EPERM: 'there is no permission for it',
  EROFS: 'the disk is read-only',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk is full',
  ENOENT: 'there is nothing of that name',
  EISDIR: 'it is a folder',
  ENOTDIR: 'part of the path is a file',
  EEXIST: 'something stands there already',
  ENAMETOOLONG: 'the name is too long',
  EMFILE: 'too many files are open',
};

/** An error in words: of the file system what stood in the way, of any other its message. */
export function fileSystemText(error: Error): string {
  if (!('syscall' in error) || !('code' in error)) return error.message;
  const reason = REASONS[String(error.code)];
  if (reason === undefined) return error.message;
  const path = 'path' in error && typeof error.path === 'string' ? error.path : 'a file';
  return `${path} cannot be read or written: ${reason}`;
}
