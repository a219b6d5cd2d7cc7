import type { Plan } from '../../plan/plan.ts';
import { wilsonInterval } from '../../statistics/proportions/index.ts';
import { type EventInTherapy, ofGroup, SORE } from './events.ts';

/** Blisters and pressure sores whose time for review has passed, and those reviewed in it. */
export interface Review {
  readonly due: readonly EventInTherapy[];
  readonly inTime: readonly EventInTherapy[];
  readonly notYetDue: readonly EventInTherapy[];
  readonly share:
    | { readonly estimate: number; readonly lower: number; readonly upper: number }
    | { readonly state: string };
}

export function reviewOf(events: readonly EventInTherapy[], cutOff: number, plan: Plan): Review {
  const within = plan.skin.reviewWithinDays;
  const sores = ofGroup(events, SORE);
  const passed = ({ foot, event }: EventInTherapy): boolean => foot.startDate + event.day + within <= cutOff;
  const due = sores.filter(passed);
  const inTime = due.filter(
    ({ event }) => event.reviewDay !== undefined && event.reviewDay - event.day <= within,
  );
  return {
    due,
    inTime,
    notYetDue: sores.filter(sore => !passed(sore)),
    share:
      due.length === 0
        ? { state: 'no data' }
        : wilsonInterval(inTime.length, due.length, { level: plan.level }),
  };
}
