import type { TraceEntry } from '../finding.ts';
import type { OfOneFoot } from './people.ts';

/** The episodes behind a count of feet. */
export function traceFeet(rule: string, feet: readonly OfOneFoot[]): TraceEntry {
  return { rule, episodes: [...new Set(feet.map(foot => foot.episode))].sort() };
}

/** The episodes behind a count of step-downs, spells or events, and how many of them each episode has. */
export function traceItems(rule: string, items: readonly OfOneFoot[]): TraceEntry {
  const times = new Map<string, number>();
  for (const { episode } of items) times.set(episode, (times.get(episode) ?? 0) + 1);
  const episodes = [...times.keys()].sort();
  return { rule, episodes, times: episodes.map(episode => times.get(episode) ?? 0) };
}
