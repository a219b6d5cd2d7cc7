import { parse } from 'yaml';
import { daysFromIsoDate } from '../calendar-date.ts';
import type { ProblemCollector } from '../problems/collector.ts';
import { badDescription } from '../problems/files.ts';
import { HIDDEN, shownValue } from '../problems/problem.ts';
import { identifyingValue } from '../privacy/identifying-value.ts';

/** What `export.yaml` says of an export. */
export interface ExportDescription {
  readonly service: string | undefined;
  /** Data cut-off, days since 1970-01-01. */
  readonly cutOff: number | undefined;
  readonly exportedAt: string | undefined;
}

const NOTHING: ExportDescription = { service: undefined, cutOff: undefined, exportedAt: undefined };
const KEYS = ['service', 'cut_off', 'exported_at'];
const ALLOWED_KEYS = `the fields ${KEYS.join(', ')}`;
const DATE_TIME = /^\d{4}-\d{2}-\d{2}([T ]\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})?)?$/;

/** Reads the text of `export.yaml`; what cannot be used is left out and named. */
export function readDescription(text: string | undefined, problems: ProblemCollector): ExportDescription {
  if (text === undefined || text.trim() === '') return NOTHING;
  const entries = parsed(text);
  if (entries === undefined) {
    problems.add(badDescription(undefined, undefined, `YAML with ${ALLOWED_KEYS}`));
    return NOTHING;
  }
  for (const key of Object.keys(entries)) {
    if (!KEYS.includes(key)) problems.add(badDescription(shownKey(key), undefined, ALLOWED_KEYS));
  }
  const field = <Value>(key: string, read: (value: string) => Value | undefined, allowed: string) => {
    const value = entries[key];
    if (value === undefined || value === null) return undefined;
    const known = typeof value === 'string' || typeof value === 'number' ? read(String(value)) : undefined;
    if (known === undefined) {
      const shown =
        typeof value === 'object'
          ? undefined
          : shownValue(typeof value === 'string' ? value : JSON.stringify(value), false);
      problems.add(badDescription(key, shown, allowed));
    }
    return known;
  };
  return {
    service: field('service', oneLine, 'the name of the service, one line of up to 120 characters'),
    cutOff: field('cut_off', daysFromIsoDate, 'a calendar date such as 2025-03-09'),
    exportedAt: field(
      'exported_at',
      value => (DATE_TIME.test(value) ? value : undefined),
      'a date or date and time such as 2025-03-09T08:30:00Z',
    ),
  };
}

/** A key is shown if it is written like one. */
function shownKey(key: string): string {
  return /^[a-z_]{1,30}$/.test(key) ? key : HIDDEN;
}

function oneLine(value: string): string | undefined {
  const name = value.trim();
  const what = identifyingValue(name);
  if (what === 'e-mail address' || what === 'phone number' || what === 'health-service number')
    return undefined;
  return name.length > 0 && name.length <= 120 && !/\p{Cc}/u.test(name) ? name : undefined;
}

function parsed(text: string): Readonly<Record<string, unknown>> | undefined {
  try {
    // The core schema keeps dates as text, and no alias is followed, so that a small file cannot grow large.
    const value: unknown = parse(text, { schema: 'core', maxAliasCount: 0, logLevel: 'silent' });
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return undefined;
    return value as Readonly<Record<string, unknown>>;
  } catch {
    return undefined;
  }
}
