import type { Scenario } from './scenario.ts';
import type { Stream } from './streams.ts';

export const EVENT_KINDS = [
  'slight redness',
  'strong redness',
  'blister',
  'pressure sore',
  'brace pulled off',
  'unplanned pause',
] as const;
export type EventKind = (typeof EVENT_KINDS)[number];
export type EventCause = 'strap too tight' | 'poor fit' | 'sock fold' | 'not known';

export interface SkinRecord {
  readonly day: number;
  readonly kind: EventKind;
  readonly hoursOff: number;
  /** Undefined: not reviewed. */
  readonly reviewDay: number | undefined;
  readonly cause: EventCause | undefined;
}

/** Daily chances of the six kinds in full time, without and with a tight strap. */
export interface SkinRates {
  readonly loose: readonly number[];
  readonly tight: readonly number[];
  readonly looseSum: number;
  readonly tightSum: number;
}

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

/** @param factor Multiplies redness, blisters and sores (1: as the scenario has them). */
export function skinRates(scenario: Scenario, factor: number): SkinRates {
  const s = scenario.skin;
  const loose = [s.slightRedness, s.strongRedness, s.blister, s.pressureSore]
    .map(rate => (rate * factor) / 700)
    .concat([s.pulledOff / 700, s.unplannedPause / 700]);
  const tight = loose.map((rate, i) => (i < 4 ? rate * s.strapFactor : rate));
  return { loose, tight, looseSum: sum(loose), tightSum: sum(tight) };
}

export function phaseFactor(scenario: Scenario, hours: number): number {
  const f = scenario.skin.phaseFactor;
  return hours >= 20 ? f.fullTime : hours > 12 ? f.longOvernight : f.overnight;
}

/** The event of one foot on one day, if there is one. */
export function skinEvent(
  rates: SkinRates,
  tight: boolean,
  factor: number,
  reviewInTime: number,
  day: number,
  random: Stream,
): SkinRecord | undefined {
  if (!random.chance((tight ? rates.tightSum : rates.looseSum) * factor)) return undefined;
  const kind = EVENT_KINDS[random.pick(tight ? rates.tight : rates.loose)] ?? 'slight redness';
  const skin = kind !== 'brace pulled off' && kind !== 'unplanned pause';
  const cause: EventCause | undefined = !skin
    ? undefined
    : tight && random.chance(0.75)
      ? 'strap too tight'
      : ((['poor fit', 'sock fold', 'not known'] as const)[random.pick([4, 3, 3])] ?? 'not known');
  const serious = kind === 'blister' || kind === 'pressure sore';
  const reviewDay = serious
    ? random.chance(reviewInTime)
      ? day + random.whole(0, 6)
      : random.chance(0.5)
        ? day + random.whole(8, 15)
        : undefined
    : random.chance(0.1)
      ? day + random.whole(0, 5)
      : undefined;
  const [fewest, most] = HOURS_OFF[kind];
  return { day, kind, hoursOff: random.whole(fewest, most), reviewDay, cause };
}

/** Fewest and most hours off the brace for each kind. */
const HOURS_OFF: Readonly<Record<EventKind, readonly [number, number]>> = {
  'slight redness': [0, 1],
  'strong redness': [0, 3],
  blister: [2, 12],
  'pressure sore': [12, 72],
  'brace pulled off': [1, 8],
  'unplanned pause': [8, 60],
};
