import type { Plan } from '../../plan/plan.ts';
import { formatInterval, formatPercent, formatShare } from '../../wording/format.ts';
import { eventsOf, medianOf, type Outcome, type OutcomeGroup } from './outcome-groups.ts';

/** Two short sentences: how many lapsed and by when half of the feet had; how many stopped. */
export function adherenceStatement(groups: readonly OutcomeGroup[], plan: Plan): string {
  const all = (outcome: Outcome): OutcomeGroup | undefined =>
    groups.find(group => group.outcome === outcome && group.by === 'all');
  const lapse = all('lapse');
  const stopped = all('discontinuation');
  const sentences = [
    ...(lapse === undefined ? [] : [lapseSentence(lapse, plan)]),
    ...(stopped === undefined
      ? []
      : [`The brace was given up in ${formatShare(eventsOf(stopped).length, stopped.items.length)} feet.`]),
  ];
  return sentences.length === 0
    ? 'No foot has enough wear data, so adherence cannot be described.'
    : sentences.join(' ');
}

function lapseSentence(lapse: OutcomeGroup, plan: Plan): string {
  const median = medianOf(lapse);
  const half =
    'state' in median
      ? 'half of the feet had not lapsed by the end of follow-up'
      : `half of the feet had lapsed by week ${formatInterval(median, 'time')}`;
  const count = formatShare(eventsOf(lapse).length, lapse.items.length);
  return `Over ${plan.lapse.windowDays} days, wear fell under ${formatPercent(plan.lapse.below)} of the hours expected in ${count} feet; ${half}.`;
}
