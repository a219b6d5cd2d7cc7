import type { KnownTruth } from './known-truth.ts';

/** A measure of a finding with what is true of it: as checkups would show it, and as it was. */
export interface TruthLine {
  /** Key of the measure. */
  readonly key: string;
  readonly seen: number | undefined;
  readonly happened: number | undefined;
}

const STATES: Readonly<Record<string, string>> = { '24': '24 hours', '15': '15 hours', '12': '12 hours' };
const SKIN = ['slight redness', 'strong redness', 'blister', 'pressure sore'];
const SORE = ['blister', 'pressure sore'];

/**
 * The lines of each finding, by its key. Weeks are those of the truth; lines whose measure the report does not have are
 * left out by whoever prints them.
 *
 * @param quarter the quarter of an audit, such as `2026-Q3`
 */
export function truthLines(
  truth: KnownTruth,
  quarter?: string,
): Readonly<Record<string, readonly TruthLine[]>> {
  return {
    'time-to-correction': truth.correction.bands.flatMap(({ band, seenIncidence, trueIncidence }) =>
      seenIncidence.map((seen, week) => ({
        key: `corrected.week${week}.${band}`,
        seen,
        happened: trueIncidence[week],
      })),
    ),
    'relapse-after-step-down': truth.relapse.flatMap(({ step, weeks, driftBegun, relapseSeen }) =>
      weeks.map((week, i) => ({
        key: `risk.week${week}.${step}.all`,
        seen: relapseSeen[i],
        happened: driftBegun[i],
      })),
    ),
    adherence: (
      [
        ['lapse', truth.adherence.withoutLapse],
        ['discontinuation', truth.adherence.withoutDiscontinuation],
      ] as const
    ).flatMap(([outcome, without]) =>
      without.map((happened, week) => ({
        key: `without.week${week}.${outcome}.all`,
        seen: undefined,
        happened,
      })),
    ),
    'phase-occupancy': truth.occupancy.flatMap(({ state, share }) =>
      share.map((happened, week) => ({
        key: `share.week${week}.${STATES[state] ?? state}.all`,
        seen: undefined,
        happened,
      })),
    ),
    'severity-and-duration': [
      ...truth.durations.bands.map(({ band, medianWeeks }) => ({
        key: `median.${band}`,
        seen: undefined,
        happened: medianWeeks,
      })),
      ...truth.durations.bands.flatMap(({ band, finishedIncidence }) =>
        finishedIncidence.map((happened, week) => ({
          key: `finished.week${week}.${band}`,
          seen: undefined,
          happened,
        })),
      ),
    ],
    audit: truth.audit.quarters
      .filter(known => known.quarter === quarter)
      .flatMap(({ teachBack, baselinePhotograph }) => [
        { key: 'share.teach-back', seen: undefined, happened: teachBack },
        { key: 'share.baseline-photograph', seen: undefined, happened: baselinePhotograph },
      ]),
    'skin-safety': [
      ...skinLines(truth, 'any skin event', SKIN),
      ...skinLines(truth, 'blister or pressure sore', SORE),
    ],
  };
}

/** Rates of several kinds together, in each phase and over all of therapy. */
function skinLines(
  { skinPer100FootWeeks: phases }: KnownTruth,
  group: string,
  kinds: readonly string[],
): readonly TruthLine[] {
  const rates = phases.map(phase => kinds.reduce((sum, kind) => sum + (phase.rates[kind] ?? 0), 0));
  const weeks = phases.reduce((sum, phase) => sum + phase.footWeeks, 0);
  const events = phases.reduce((sum, phase, i) => sum + (rates[i] ?? 0) * phase.footWeeks, 0);
  const line = (phase: string, happened: number): TruthLine => ({
    key: `rate.${group}.${phase}`,
    seen: undefined,
    happened,
  });
  return [
    ...(weeks > 0 ? [line('all', events / weeks)] : []),
    ...phases.map((phase, i) => line(`${phase.prescribedHours} hours`, rates[i] ?? 0)),
  ];
}
