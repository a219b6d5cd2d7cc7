import type { Analysis, Measure, TraceEntry } from '../analyses/index.ts';
import type { FlowStep } from '../cohort/index.ts';

/** A count with the episodes behind it and the rule that put them there. */
export interface TracedCount {
  /** `finding-key/measure-key`, or `flow/step-key`. */
  readonly key: string;
  readonly label: string;
  /** What is counted: feet, unless a measure says otherwise. */
  readonly unit: string;
  readonly count: number;
  readonly rule: string;
  /** Each episode, and how many of what is counted it has. */
  readonly episodes: readonly { readonly episode: string; readonly times: number }[];
}

/** Every count of the findings and of the participant flow that can be traced, by key. */
export function tracedCounts(
  analyses: readonly Analysis[],
  flow: readonly FlowStep[],
): ReadonlyMap<string, TracedCount> {
  const counts = [
    ...flow.filter(step => step.rowsOnly !== true).map(ofFlow),
    ...analyses.flatMap(({ finding, trace }) =>
      Object.entries(trace).map(([key, entry]) =>
        ofTrace(
          `${finding.key}/${key}`,
          entry,
          finding.measures.find(measure => measure.key === key),
        ),
      ),
    ),
  ];
  return new Map(counts.map(count => [count.key, count]));
}

function ofFlow({ key, label, counted }: FlowStep): TracedCount {
  return {
    key: `flow/${key}`,
    label,
    unit: 'feet',
    count: counted.feet,
    rule: label,
    episodes: counted.episodes.map(episode => ({ episode, times: 1 })),
  };
}

function ofTrace(
  key: string,
  { rule, episodes, times }: TraceEntry,
  measure: Measure | undefined,
): TracedCount {
  const listed = episodes.map((episode, place) => ({ episode, times: times?.[place] ?? 1 }));
  return {
    key,
    label: [measure?.label ?? rule, measure?.group].filter(part => part !== undefined).join(', '),
    unit: measure?.unit ?? (times === undefined ? 'feet' : 'items'),
    count: listed.reduce((sum, { times: number }) => sum + number, 0),
    rule,
    episodes: listed,
  };
}
