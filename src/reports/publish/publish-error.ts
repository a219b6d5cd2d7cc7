/** Why nothing was published. */
export type PublishErrorCode =
  | 'exists'
  | 'locked'
  | 'damaged'
  | 'not-a-report'
  | 'unsafe-path'
  | 'not-writable';

/** Thrown when a folder cannot be published; the message is one line that names the folder and what to do. */
export class PublishError extends Error {
  override readonly name = 'PublishError';
  readonly code: PublishErrorCode;

  constructor(code: PublishErrorCode, message: string, options?: ErrorOptions) {
    super(message, options);
    this.code = code;
  }
}
