import { countsAndRanks, plans, resamplingAndCharts } from './count-calls.ts';
import type { ContractCall } from './example.ts';
import { models } from './model-calls.ts';
import { survival } from './survival-calls.ts';

export type { Columns, ContractCall } from './example.ts';

export const calls: readonly ContractCall[] = [
  ...survival,
  ...models,
  ...countsAndRanks,
  ...resamplingAndCharts,
  ...plans,
];

export function title({ name, variant }: ContractCall): string {
  return variant === undefined ? name : `${name} (${variant})`;
}
