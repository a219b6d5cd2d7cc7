import { requireOption } from '../option.ts';

/** A named set of rules for telling a signal from common variation. */
export type RuleSet = 'shewhart' | 'western-electric' | 'nelson';

/** A rule that fired. */
export interface Signal {
  /** The rule's name, such as `two of three beyond 2 sigma`. */
  readonly rule: string;
  readonly ruleSet: RuleSet;
  /** The rule's number in its set. */
  readonly number: number;
  /** The point at which it fired, counted from 0. */
  readonly index: number;
  /** The points that make the pattern, the firing one last. */
  readonly points: readonly number[];
  /** Which side of the centre, where the pattern has one. */
  readonly side?: 'above' | 'below';
}

interface Rule {
  readonly name: string;
  readonly length: number;
  /** Whether the last point of a window ends the pattern, on the given side (1 above, -1 below; 0 for either). */
  readonly holds: (window: readonly Point[], side: 1 | -1) => boolean;
  readonly sided: boolean;
}

interface Point {
  /** Distance from the centre in standard deviations. */
  readonly z: number;
  readonly value: number;
}

const beyond = (limit: number, needed: number, of: number): Rule => ({
  name: `${NUMBERS[needed]} of ${NUMBERS[of]} beyond ${limit} sigma`,
  length: of,
  // The firing point must itself lie beyond: otherwise the pattern was complete before it.
  holds: (window, side) =>
    side * (window.at(-1)?.z ?? 0) > limit && window.filter(point => side * point.z > limit).length >= needed,
  sided: true,
});

const oneSide = (length: number): Rule => ({
  name: `${NUMBERS[length]} in a row on one side of the centre`,
  length,
  holds: (window, side) => window.every(point => side * point.z > 0),
  sided: true,
});

const NUMBERS: Readonly<Record<number, string>> = {
  2: 'two',
  3: 'three',
  4: 'four',
  5: 'five',
  6: 'six',
  8: 'eight',
  9: 'nine',
  14: 'fourteen',
  15: 'fifteen',
};

const BEYOND_LIMITS: Rule = {
  name: 'beyond 3 sigma',
  length: 1,
  holds: (window, side) => side * (window[0]?.z ?? 0) > 3,
  sided: true,
};

const SETS: Readonly<Record<RuleSet, readonly Rule[]>> = {
  shewhart: [BEYOND_LIMITS],
  'western-electric': [BEYOND_LIMITS, beyond(2, 2, 3), beyond(1, 4, 5), oneSide(8)],
  nelson: [
    BEYOND_LIMITS,
    oneSide(9),
    {
      name: 'six in a row rising or falling',
      length: 6,
      holds: (window, side) => steps(window).every(step => side * step > 0),
      sided: true,
    },
    {
      name: 'fourteen in a row alternating up and down',
      length: 14,
      holds: window =>
        steps(window).every((step, i, all) => step !== 0 && (i === 0 || step * (all[i - 1] ?? 0) < 0)),
      sided: false,
    },
    beyond(2, 2, 3),
    beyond(1, 4, 5),
    {
      name: 'fifteen in a row within 1 sigma',
      length: 15,
      holds: window => window.every(point => Math.abs(point.z) < 1),
      sided: false,
    },
    {
      name: 'eight in a row outside 1 sigma',
      length: 8,
      holds: window => window.every(point => Math.abs(point.z) > 1),
      sided: false,
    },
  ],
};

/**
 * Finds the signals of a rule set in a series. `sigma[i]` is the standard deviation of point i about the centre;
 * points exactly on the centre, or on a zone limit, belong to neither side.
 *
 * - `shewhart`: one point beyond 3 sigma (Shewhart 1931).
 * - `western-electric`: the four zone rules of the Western Electric Statistical Quality Control Handbook, 1956: one
 *   beyond 3 sigma; two of three beyond 2; four of five beyond 1; eight in a row on one side.
 * - `nelson`: the eight tests of Nelson, J Qual Technol 1984;16:237-239: one beyond 3 sigma; nine in a row on one
 *   side; six in a row rising or falling; fourteen alternating; two of three beyond 2; four of five beyond 1;
 *   fifteen in a row within 1; eight in a row outside 1.
 *
 * A rule fires at each point that ends its pattern, so a long run fires again at each further point.
 *
 * @throws StatisticsError `unknown-option`
 * @example findSignals([0, 1, 4], [0, 0, 0], [1, 1, 1], 'shewhart').map(({ index }) => index) // [2]
 */
export function findSignals(
  values: ArrayLike<number>,
  centre: ArrayLike<number>,
  sigma: ArrayLike<number>,
  ruleSet: RuleSet,
): Signal[] {
  requireOption('rules', ruleSet, Object.keys(SETS));
  const points = Array.from(values, (value, i): Point => {
    const distance = value - (centre[i] ?? 0);
    const scale = sigma[i] ?? 0;
    // Without variation any distance is beyond every limit.
    const z = distance === 0 ? 0 : scale > 0 ? distance / scale : Math.sign(distance) * Number.MAX_VALUE;
    return { value, z };
  });
  const signals: Signal[] = [];
  for (const index of points.keys()) {
    for (const [place, rule] of SETS[ruleSet].entries()) {
      if (index + 1 < rule.length) continue;
      const window = points.slice(index + 1 - rule.length, index + 1);
      const sides: readonly (1 | -1)[] = rule.sided ? [1, -1] : [1];
      const side = sides.find(candidate => rule.holds(window, candidate));
      if (side === undefined) continue;
      signals.push({
        rule: rule.name,
        ruleSet,
        number: place + 1,
        index,
        points: window.map((_, i) => index + 1 - rule.length + i),
        ...(rule.sided ? { side: side === 1 ? ('above' as const) : ('below' as const) } : {}),
      });
    }
  }
  return signals;
}

/** Successive differences: above for a rise. */
function steps(window: readonly Point[]): number[] {
  return window.slice(1).map((point, i) => point.value - (window[i]?.value ?? 0));
}
