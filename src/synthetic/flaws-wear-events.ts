import { isoDate } from './calendar.ts';
import { type Flaw, type FlawContext, shifted } from './flaw.ts';

const always = () => true;

const typed = (kind: string, field: string, text: string): Flaw => ({
  kind,
  field,
  fits: always,
  plant: ({ row }) => row.set(field, text),
});

const dated = (kind: string, day: (context: FlawContext) => number): Flaw => ({
  kind,
  field: 'date',
  fits: always,
  plant: context => context.row.set('date', isoDate(day(context))),
});

const copied = (
  kind: string,
  field: string,
  changes: (context: FlawContext) => Record<string, string>,
): Flaw => ({
  kind,
  field,
  fits: always,
  found: 'added',
  plant: context => context.append(changes(context)),
});

const strayed = copied('unknown-episode', 'episode_id', ({ row }) => ({
  episode_id: `${row.get('episode_id')}X`,
}));

export const WEAR_FLAWS: readonly Flaw[] = [
  typed('out-of-range', 'hours_worn', '25.5'),
  typed('not-a-number', 'hours_worn', '7h30'),
  typed('missing-value', 'hours_worn', ''),
  typed('not-an-allowed-word', 'source', 'guess'),
  dated('before-first-fitting', ({ start }) => start - 2),
  dated('after-cut-off', ({ cutOff }) => cutOff + 40),
  copied('duplicate-key', 'episode_id + date + source', () => ({ hours_worn: '11' })),
  strayed,
];

export const EVENT_FLAWS: readonly Flaw[] = [
  {
    kind: 'review-before-event',
    field: 'review_date',
    fits: always,
    plant: ({ row }) => row.set('review_date', shifted(row.get('date'), -4)),
  },
  typed('not-an-allowed-word', 'kind', 'rash'),
  typed('not-an-allowed-word', 'cause', 'weather'),
  typed('out-of-range', 'hours_off', '9999'),
  dated('before-first-fitting', ({ start }) => start - 3),
  {
    kind: 'not-a-date',
    field: 'date',
    fits: always,
    plant: ({ row }) => row.set('date', row.get('date').slice(0, 7)),
  },
  {
    kind: 'wrong-number-of-cells',
    field: '',
    fits: always,
    plant: ({ row, replaceLine }) =>
      replaceLine([row.get('episode_id'), row.get('date'), row.get('kind')].join(',')),
  },
  strayed,
];
