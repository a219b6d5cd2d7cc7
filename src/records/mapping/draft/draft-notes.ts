import { identifyingHeader } from '../../privacy/identifying-header.ts';
import { shownColumn } from '../../reading/header.ts';
import type { Question } from './draft-source.ts';
import type { WideColumn } from './wide-columns.ts';

/** An episode needs the age or the birth date. */
export function noAge(source: string, specs: Readonly<Record<string, unknown>>): readonly Question[] {
  if (specs.age_at_start_days !== undefined || specs.birth_date !== undefined) return [];
  const question =
    'which column is age_at_start_days (a unit may be given, such as weeks to days), or birth_date; one of them is needed';
  return [{ where: `${source} (episodes)`, question }];
}

/** What is told of columns that nothing was made of; those that may identify a person are refused until that is known. */
export function notUsed(source: string, columns: readonly Pick<WideColumn, 'template'>[]): readonly string[] {
  if (columns.length === 0) return [];
  const identifying = columns.filter(({ template }) => identifyingHeader(template) !== undefined);
  const note = `${source}: columns not used: ${namesOf(columns)}`;
  if (identifying.length === 0) return [note];
  const names = identifying.map(({ template }) => JSON.stringify(shownColumn(template))).join(', ');
  return [
    note,
    `${source}: by their headers these may identify a person, and check complains of them; if they are known not to be needed, add ignore: [${names}] to the source`,
  ];
}

const MOST_NAMED = 30;

export function namesOf(columns: readonly Pick<WideColumn, 'template'>[]): string {
  const names = columns.slice(0, MOST_NAMED).map(({ template }) => shownColumn(template));
  const more = columns.length - names.length;
  return `${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}
