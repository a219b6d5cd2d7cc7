import { fromIsoDate, isoDate } from './calendar.ts';
import { type Flaw, type FlawContext, shifted } from './flaw.ts';

const closed = ({ row }: FlawContext) => row.get('end_date') !== '';
const days = ({ row }: FlawContext) => fromIsoDate(row.get('end_date')) - fromIsoDate(row.get('start_date'));
/** A spell of ten days and more with another after it of the same episode, itself long enough. */
const followed = (context: FlawContext) =>
  context.next !== undefined && closed(context) && days(context) >= 10;
const roomAfter = (context: FlawContext) =>
  followed(context) &&
  fromIsoDate(context.row.get('end_date')) + 4 <= context.cutOff &&
  (context.next?.get('end_date') === '' ||
    fromIsoDate(context.next?.get('end_date') ?? '') - fromIsoDate(context.next?.get('start_date') ?? '') >=
      10);

export const PHASE_FLAWS: readonly Flaw[] = [
  {
    kind: 'step-skips-a-phase',
    field: 'prescribed_hours',
    found: 'next',
    fits: context =>
      followed(context) &&
      context.row.get('prescribed_hours') === '24' &&
      context.next?.get('prescribed_hours') === '15',
    plant: ({ next }) => next?.set('prescribed_hours', '12'),
  },
  {
    kind: 'overlapping-phases',
    field: 'start_date',
    found: 'next',
    fits: roomAfter,
    plant: ({ row }) => row.set('end_date', shifted(row.get('end_date'), 4)),
  },
  {
    kind: 'gap-between-phases',
    field: 'start_date',
    found: 'next',
    fits: followed,
    plant: ({ row }) => row.set('end_date', shifted(row.get('end_date'), -3)),
  },
  {
    kind: 'phase-without-end',
    field: 'end_date',
    fits: followed,
    plant: ({ row }) => row.set('end_date', ''),
  },
  {
    kind: 'hours-not-in-plan',
    field: 'prescribed_hours',
    fits: ({ row }) => row.get('prescribed_hours') === '15',
    plant: ({ row }) => row.set('prescribed_hours', '18'),
  },
  {
    kind: 'end-before-start',
    field: 'end_date',
    fits: closed,
    plant: ({ row }) => row.set('end_date', isoDate(fromIsoDate(row.get('start_date')) - 7)),
  },
  {
    kind: 'out-of-range',
    field: 'prescribed_hours',
    fits: () => true,
    plant: ({ row }) => row.set('prescribed_hours', '240'),
  },
  {
    kind: 'duplicate-key',
    field: 'episode_id + start_date',
    fits: () => true,
    found: 'added',
    plant: ({ append }) => append({}),
  },
  {
    kind: 'missing-value',
    field: 'prescribed_hours',
    fits: () => true,
    plant: ({ row }) => row.set('prescribed_hours', ''),
  },
];
