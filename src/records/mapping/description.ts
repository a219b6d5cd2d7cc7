import { stringify } from 'yaml';
import type { Mapping } from './mapping.ts';

/** What a mapping says of the export, as the text of an `export.yaml`; undefined if it says nothing. */
export function descriptionOf({ description }: Mapping): string | undefined {
  return description === undefined ? undefined : stringify(description);
}
