import { isoDate } from './calendar.ts';
import { cutOffDay } from './generate.ts';
import type { Scenario } from './scenario.ts';

/** `export.yaml` of an invented export: the service, the data cut-off, and an export time on the morning after. */
export function exportDescription(scenario: Scenario): string {
  const cutOff = cutOffDay(scenario);
  return [
    `service: ${JSON.stringify(scenario.service)}`,
    `cut_off: ${isoDate(cutOff)}`,
    `exported_at: ${isoDate(cutOff + 1)}T06:00:00Z`,
    '',
  ].join('\n');
}
