import type { Analysis, Effect, Measure } from '../analyses/index.ts';

/** What a number rests on, where it is no count itself: counts that can be listed, or the words that say how it is formed. */
export interface Behind {
  /** `n` or `events`. */
  readonly part: 'n' | 'events';
  readonly count: number;
  /** Keys of counts of the same finding and group with as many; none where the count is formed from others. */
  readonly keys: readonly string[];
  /** How the count is formed, where no single list adds up to it. */
  readonly derived?: string;
}

/** Counts that no list of their own adds up to, and how they are formed from those that have one. */
const DERIVED: readonly {
  readonly finding: string;
  readonly key: RegExp;
  readonly words: string;
}[] = [
  {
    finding: 'time-to-correction',
    key: /^restricted-mean-difference\./,
    words: 'the feet (or corrections) of both bands together: feet.BAND, corrected.BAND',
  },
  {
    finding: 'time-to-correction',
    key: /^(dose\.)?(cox|fine-gray)\./,
    words:
      'all bands together (feet.BAND, corrected.BAND; by hours worn dose.feet.BAND, dose.corrected.BAND), in an adjusted model those with sex, crease and age recorded',
  },
  {
    finding: 'relapse-after-step-down',
    key: /^rateRatio\./,
    words: 'the step-downs (or relapses) of both groups together: followed.STEP.BAND, relapses.STEP.BAND',
  },
  {
    finding: 'relapse-after-step-down',
    key: /^cox\./,
    words:
      'of followed.any step-down.all and relapses.any step-down.all those for which each feature of the model is recorded',
  },
  {
    finding: 'relapse-after-step-down',
    key: /^meanCount\./,
    words:
      'every accepted foot of the band, flow/accepted or feet.BAND of baseline, and its relapses: relapses.any step-down.BAND',
  },
  {
    finding: 'skin-safety',
    key: /^rateRatio\./,
    words: 'the feet for which the fitting is recorded, and their events: events.KIND.all',
  },
  {
    finding: 'assessor-agreement',
    key: /^kappa\./,
    words: 'of pairs those in which both assessors recorded the finding',
  },
  {
    finding: 'sensitivity',
    key: /^/,
    words: 'as for the same number in the finding that it comes from',
  },
  {
    finding: 'duration-model-checks',
    key: /^time\./,
    words:
      'severity-and-duration/models.crude or models.complete, and models.crude.finished or models.complete.finished',
  },
  {
    finding: 'duration-missing-findings',
    key: /imputed/,
    words: 'the least over the completed tables: a foot whose band comes out straight is left out of a table',
  },
  {
    finding: 'duration-next-study',
    key: /^(precision|design)\./,
    words:
      'severity-and-duration/models.crude or models.complete, for the design its feet of the worst and the mildest band',
  },
];

/** The counts behind the n and the events of a measure or a ratio. */
export function countsBehind({ finding, trace }: Analysis, item: Measure | Effect): readonly Behind[] {
  const group = 'group' in item ? item.group : undefined;
  const groupOf = new Map(finding.measures.map(measure => [measure.key, measure.group]));
  const parts = [
    { part: 'n', count: item.n },
    { part: 'events', count: item.events },
  ] as const;
  return parts.flatMap(({ part, count }): readonly Behind[] => {
    if (typeof count !== 'number') return [];
    const derived = DERIVED.find(entry => entry.finding === finding.key && entry.key.test(item.key))?.words;
    if (derived !== undefined) return [{ part, count, keys: [], derived }];
    const keys = Object.entries(trace)
      .filter(([key, { episodes, times }]) => {
        const listed = times === undefined ? episodes.length : times.reduce((sum, number) => sum + number, 0);
        const own = groupOf.get(key);
        const inGroup =
          group === undefined ||
          own === group ||
          key === 'analysed' ||
          key.startsWith('models.') ||
          endsWithWords(key, item.key, group);
        return inGroup && listed === count;
      })
      .map(([key]) => `${finding.key}/${key}`);
    return [{ part, count, keys }];
  });
}

/** Whether a key names the group, or ends as the key of the item does (`risk.week3.24 to 15.all`, `followed.24 to 15.all`). */
function endsWithWords(key: string, itemKey: string, group: string): boolean {
  const tail = itemKey.split('.').slice(1).join('.');
  return (
    key.endsWith(`.${group}`) || (tail !== '' && (key.endsWith(`.${tail}`) || tail.endsWith(afterFirst(key))))
  );
}

function afterFirst(key: string): string {
  const at = key.indexOf('.');
  return at < 0 ? '\0' : key.slice(at);
}
