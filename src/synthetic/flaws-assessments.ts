import { fromIsoDate, isoDate } from './calendar.ts';
import type { Flaw, FlawContext } from './flaw.ts';

const kindIs =
  (...kinds: string[]) =>
  ({ row }: FlawContext) =>
    kinds.includes(row.get('kind'));

const typed = (kind: string, field: string, text: string): Flaw => ({
  kind,
  field,
  fits: kindIs('checkup', 'unscheduled'),
  plant: ({ row }) => row.set(field, text),
});

export const ASSESSMENT_FLAWS: readonly Flaw[] = [
  {
    kind: 'visit-after-end',
    field: 'kind',
    fits: ({ row, episode }) => row.get('kind') === 'follow-up' && episode.get('end_date') !== '',
    plant: ({ row }) => row.set('kind', 'checkup'),
  },
  {
    kind: 'before-birth',
    field: 'date',
    fits: context => kindIs('checkup')(context) && context.episode.get('age_at_start_days') !== '',
    plant: ({ row, episode, start }) =>
      row.set('date', isoDate(start - Number(episode.get('age_at_start_days')) - 30)),
  },
  {
    kind: 'visit-before-first-fitting',
    field: 'kind',
    fits: context => kindIs('checkup')(context) && Number(context.episode.get('age_at_start_days')) > 8,
    plant: ({ row, start }) => row.set('date', isoDate(start - 5)),
  },
  {
    kind: 'after-cut-off',
    field: 'date',
    fits: kindIs('checkup'),
    plant: ({ row, cutOff }) => row.set('date', isoDate(cutOff + 365)),
  },
  {
    kind: 'unknown-episode',
    field: 'episode_id',
    fits: kindIs('checkup'),
    found: 'added',
    plant: ({ row, append }) => append({ episode_id: `${row.get('episode_id')}X` }),
  },
  {
    kind: 'duplicate-key',
    field: 'episode_id + date + assessor_id',
    fits: context => kindIs('checkup')(context) && context.row.get('assessor_id') !== '',
    found: 'added',
    plant: ({ append }) => append({}),
  },
  {
    kind: 'not-a-date',
    field: 'date',
    fits: kindIs('checkup'),
    // Day before month, as many write it.
    plant: ({ row }) => {
      const [year, month, day] = isoDate(fromIsoDate(row.get('date'))).split('-');
      row.set('date', `${day}.${month}.${year}`);
    },
  },
  typed('missing-value', 'kind', ''),
  typed('not-an-allowed-word', 'flexibility', 'rather stiff'),
  typed('not-a-number', 'bisector_position', 'third toe'),
  typed('out-of-range', 'bisector_position', '6'),
  typed('out-of-range', 'bisector_angle_degrees', '180'),
  typed('not-yes-or-no', 'medial_crease', 'slight'),
  typed('not-a-code', 'assessor_id', 'relief staff'),
];
