import type { Problem } from './records.ts';

/** Nothing can be made of an export; `problems` say why, the message being the first of them. */
export class UnusableExport extends Error {
  override readonly name = 'UnusableExport';
  readonly problems: readonly Problem[];

  constructor(problems: readonly Problem[]) {
    super(problems[0]?.message ?? 'the export cannot be used');
    this.problems = problems;
  }
}
