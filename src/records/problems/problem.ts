import { harmlessCode, harmlessValue } from '../privacy/harmless.ts';
import type { Problem } from '../records.ts';
import type { ProblemKind } from './kinds.ts';

/** Where a problem stands. */
export interface Place {
  readonly file: string;
  readonly line?: number;
  readonly field?: string;
  /** As `shownValue` gives it. */
  readonly value?: string;
}

/** Stands in for a value that may identify a person. */
export const HIDDEN = '(hidden)';

const SHOWN_LENGTH = 60;

/** A value as a problem shows it: hidden unless it can be told to say nothing of a person. */
export function shownValue(text: string, hidden: boolean): string {
  return hidden || !harmlessValue(text) ? HIDDEN : onOneLine(text);
}

/** A code as a problem shows it: hidden if it may be a name or the number of a person. */
export function shownCode(text: string): string {
  return harmlessCode(text) ? text : HIDDEN;
}

/** A text on one line, without control characters, cut after 60 characters. */
export function onOneLine(text: string): string {
  const cut = text.length > SHOWN_LENGTH ? `${text.slice(0, SHOWN_LENGTH)}…` : text;
  return withoutControls(cut);
}

/** A text with its control characters written out, so that a terminal does nothing but show it. */
export function withoutControls(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu, character => {
    return `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`;
  });
}

/**
 * Puts a problem together. Its message reads `FILE, line N: FIELD "VALUE" WHAT; allowed: ALLOWED`, parts that are not
 * known being left out.
 */
export function problem(
  kind: ProblemKind,
  severity: Problem['severity'],
  place: Place,
  what: string,
  allowed: string,
): Problem {
  const { file, line, field, value } = place;
  return spokenProblem(kind, severity, { file, line, field, value }, what, allowed);
}

/** As `problem`, for a kind and a place that come from another problem. */
export function spokenProblem(
  kind: string,
  severity: Problem['severity'],
  { file, line, field, value }: Pick<Problem, 'file' | 'line' | 'field' | 'value'>,
  what: string,
  allowed: string,
): Problem {
  const where = line === undefined ? file : `${file}, line ${line}`;
  const shown = value === undefined ? undefined : value === HIDDEN ? HIDDEN : `"${value}"`;
  const subject = [field, shown, what].filter(part => part !== undefined && part !== '').join(' ');
  const message = `${where}: ${subject}; allowed: ${allowed}`;
  return { kind, severity, file, line, field, value, allowed, message };
}
