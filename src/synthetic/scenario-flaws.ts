import * as z from 'zod';
import { whole } from './parameter.ts';

/** Data-entry flaws planted on purpose. */
export const flawsSchema = z
  .strictObject({
    eachKind: whole(0, 100, 0, 'How many of every kind of data-entry flaw are planted; 0 plants none.'),
  })
  .prefault({});
