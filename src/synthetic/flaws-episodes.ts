import { fromIsoDate, isoDate } from './calendar.ts';
import type { Flaw, FlawContext } from './flaw.ts';

const ended = ({ row }: FlawContext) => row.get('end_date') !== '';
const longTherapy = ({ row, start }: FlawContext) =>
  row.get('end_date') !== '' && fromIsoDate(row.get('end_date')) - start > 40;
const always = () => true;
const aged = ({ row }: FlawContext) => row.get('age_at_start_days') !== '';

const typed = (kind: string, field: string, text: string, fits: Flaw['fits'] = always): Flaw => ({
  kind,
  field,
  fits,
  plant: ({ row }) => row.set(field, text),
});

export const EPISODE_FLAWS: readonly Flaw[] = [
  typed('end-without-reason', 'end_reason', '', ended),
  typed('reason-without-end', 'end_date', '', ended),
  typed('not-an-allowed-word', 'end_reason', 'all done', ended),
  {
    kind: 'end-before-start',
    field: 'end_date',
    fits: ended,
    plant: ({ row, start }) => row.set('end_date', isoDate(start - 20)),
  },
  {
    kind: 'overlapping-episodes',
    field: 'start_date',
    fits: longTherapy,
    found: 'added',
    plant: ({ row, start, append }) =>
      append({
        episode_id: `${row.get('episode_id')}-again`,
        start_date: isoDate(start + 20),
        end_date: '',
        end_reason: '',
        // Three weeks older, so that nothing but the overlap is wrong.
        age_at_start_days:
          row.get('age_at_start_days') === '' ? '' : String(Number(row.get('age_at_start_days')) + 20),
      }),
  },
  {
    kind: 'age-and-birth-date-missing',
    field: 'age_at_start_days',
    fits: aged,
    plant: ({ row }) => row.set('age_at_start_days', ''),
  },
  {
    kind: 'age-disagrees-with-birth-date',
    field: 'age_at_start_days',
    fits: aged,
    plant: ({ row, start }) =>
      row.set('birth_date', isoDate(start - Number(row.get('age_at_start_days')) - 90)),
  },
  {
    kind: 'age-out-of-range',
    field: 'birth_date',
    fits: always,
    plant: ({ row, start }) => {
      row.set('age_at_start_days', '');
      row.set('birth_date', isoDate(start - 3000));
    },
  },
  {
    kind: 'referral-after-first-fitting',
    field: 'referral_date',
    fits: always,
    plant: ({ row, start }) => row.set('referral_date', isoDate(start + 2)),
  },
  {
    kind: 'duplicate-key',
    field: 'episode_id',
    fits: always,
    found: 'added',
    plant: ({ append }) => append({}),
  },
  typed('missing-value', 'site_id', ''),
  typed('not-a-code', 'infant_id', 'case 17/b'),
  typed('not-a-date', 'start_date', '2024-02-30'),
  typed('not-a-whole-number', 'gestational_weeks', '39.5'),
  typed('out-of-range', 'gestational_weeks', '393'),
  typed('not-yes-or-no', 'teach_back', 'partly'),
];
