import type { Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Effect, FindingTable } from '../finding.ts';
import { type RateGroup, rateEffects } from '../tools/rate-comparison.ts';
import { ANY_SKIN, type EventGroup, type EventInTherapy, ofGroup, SORE } from './events.ts';

const FITTINGS = [
  { name: 'shell opened at the ankle', of: (foot: Foot) => foot.ankleOpened },
  { name: 'shell relieved over the toe', of: (foot: Foot) => foot.toeRelieved },
] as const;

/** Rates of skin events in feet with a fitting done against feet without it. */
export function fittingEffects(
  events: readonly EventInTherapy[],
  feet: readonly Foot[],
  plan: Plan,
): readonly (readonly Effect[])[] {
  return FITTINGS.flatMap(fitting =>
    [SORE, ANY_SKIN].map(group => {
      const counts = countsByEpisode(ofGroup(events, group));
      const part = (name: string, wanted: boolean): RateGroup => ({
        name,
        items: feet
          .filter(foot => fitting.of(foot) === wanted)
          .map(foot => ({
            episode: foot.episode,
            infant: foot.infant,
            events: counts.get(foot.episode) ?? 0,
            days: foot.lastDay,
          })),
      });
      return rateEffects(
        {
          key: `${fitting.name}.${group.name}`,
          measure: `Rate ratio of ${group.name}`,
          groups: [part(`not ${fitting.name}`, false), part(fitting.name, true)],
        },
        plan,
      ).map(effect => ({ ...effect, label: `${group.name}: ${effect.label}` }));
    }),
  );
}

function countsByEpisode(events: readonly EventInTherapy[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { episode } of events) counts.set(episode, (counts.get(episode) ?? 0) + 1);
  return counts;
}

const CAUSES = ['strap too tight', 'poor fit', 'sock fold', 'not known'] as const;
const NOT_RECORDED = 'not recorded';

/** What brought skin events about, where it was recorded. */
export function causeTable(events: readonly EventInTherapy[], groups: readonly EventGroup[]): FindingTable {
  return {
    key: 'causes',
    title: 'What brought skin events about',
    columns: [
      { key: 'kind', label: 'Event', kind: 'text' },
      { key: 'events', label: 'Events', kind: 'count' },
      ...[...CAUSES, NOT_RECORDED].map(cause => ({
        key: cause,
        label: cause,
        kind: 'percent of n' as const,
      })),
    ],
    rows: groups.map(group => {
      const own = ofGroup(events, group);
      const share = (of: (cause: string | undefined) => boolean) => ({
        count: own.filter(({ event }) => of(event.cause)).length,
        of: own.length,
      });
      return {
        kind: group.name,
        events: own.length,
        ...Object.fromEntries(CAUSES.map(cause => [cause, share(recorded => recorded === cause)])),
        [NOT_RECORDED]: share(recorded => recorded === undefined),
      };
    }),
    notes: ['The cause is the judgement of whoever recorded the event.'],
  };
}
