import type { Problem, ProblemCount } from '../records.ts';

/** Problems of one kind in one file that are kept whole; the rest are counted. */
export const KEPT_OF_A_KIND = 10_000;

export interface ProblemCollector {
  add(problem: Problem): void;
  /** In the order found, at most `KEPT_OF_A_KIND` of one kind in one file. */
  readonly problems: readonly Problem[];
  /** In the order in which each kind was first found. */
  counts(): readonly ProblemCount[];
}

export function problemCollector(): ProblemCollector {
  const problems: Problem[] = [];
  const counts = new Map<
    string,
    { file: string; kind: string; severity: Problem['severity']; count: number }
  >();
  return {
    problems,
    add(problem) {
      const { file, kind, severity } = problem;
      const key = `${file}\n${kind}`;
      const known = counts.get(key);
      if (known === undefined) counts.set(key, { file, kind, severity, count: 1 });
      else known.count++;
      if (known === undefined || known.count <= KEPT_OF_A_KIND) problems.push(problem);
    },
    counts: () => [...counts.values()],
  };
}
