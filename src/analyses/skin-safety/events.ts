import type { Foot, SkinEvent } from '../../cohort/cohort.ts';
import type { OfOneFoot } from '../tools/people.ts';

/** Kinds that count together under one name. */
export interface EventGroup {
  readonly name: string;
  readonly kinds: readonly string[];
}

export const SORE: EventGroup = { name: 'blister or pressure sore', kinds: ['blister', 'pressure sore'] };
export const ANY_SKIN: EventGroup = {
  name: 'any skin event',
  kinds: ['slight redness', 'strong redness', 'blister', 'pressure sore'],
};

/** Every kind of the data dictionary, then those that count together. */
export const EVENT_GROUPS: readonly EventGroup[] = [
  ...[
    'slight redness',
    'strong redness',
    'blister',
    'pressure sore',
    'brace pulled off',
    'unplanned pause',
  ].map(kind => ({ name: kind, kinds: [kind] })),
  SORE,
  ANY_SKIN,
];

/** An event of one foot on a day of therapy, with the hours prescribed on that day. */
export interface EventInTherapy extends OfOneFoot {
  readonly foot: Foot;
  readonly event: SkinEvent;
  readonly prescribedHours: number | undefined;
}

/** Events from day 0 to the last day of therapy, by foot, then day. */
export function eventsInTherapy(feet: readonly Foot[]): readonly EventInTherapy[] {
  return feet.flatMap(foot => {
    let place = 0;
    return foot.events
      .filter(event => event.day >= 0 && event.day <= foot.lastDay)
      .map(event => {
        while ((foot.spells[place]?.endDay ?? Infinity) < event.day) place++;
        const spell = foot.spells[place];
        const inForce = spell !== undefined && spell.startDay <= event.day;
        return {
          episode: foot.episode,
          infant: foot.infant,
          foot,
          event,
          prescribedHours: inForce ? spell.prescribedHours : undefined,
        };
      });
  });
}

export function ofGroup(events: readonly EventInTherapy[], group: EventGroup): readonly EventInTherapy[] {
  return events.filter(({ event }) => group.kinds.includes(event.kind));
}
