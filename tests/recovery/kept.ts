import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import type { Message } from './jobs.ts';

/** What a run has done so far, so that a stopped one goes on where it stopped: one answered job a line. */
export interface Kept {
  readonly done: readonly Message[];
  readonly keep: (message: Message) => void;
}

/**
 * Answers kept in a file, of which only those of the same study count: the same seed and, for a truth, as many infants.
 * What the code was when they were given is for whoever keeps the file to know. Without a file nothing is kept.
 */
export function keptIn(file: string | undefined, seed: number, infants: number): Kept {
  if (file === undefined) return { done: [], keep: () => {} };
  // A run stopped while it wrote leaves its last line without an end; it goes, or the next answer would join it.
  const text = existsSync(file) ? readFileSync(file, 'utf8') : '';
  const ends = text.lastIndexOf('\n') + 1;
  if (ends < text.length) writeFileSync(file, text.slice(0, ends));
  const whole = text.slice(0, ends).split('\n').slice(0, -1);
  const done = whole
    .map(line => JSON.parse(line) as Message)
    .filter(message => message.seed === seed && (message.kind === 'export' || message.infants === infants));
  return { done, keep: message => appendFileSync(file, `${JSON.stringify(message)}\n`) };
}
