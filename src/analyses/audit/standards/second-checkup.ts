import type { Cohort } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import type { Standard } from '../standard.ts';
import { windowInWords } from './checkup-window.ts';
import { checkupsOfEpisodes } from './first-checkup.ts';

/** Feet still in therapy when the window of the second checkup closed, and seen in it. */
export function secondCheckup(cohort: Cohort, plan: Plan): Standard {
  const due = plan.audit.secondCheckup;
  return {
    key: 'second-checkup',
    title: 'Second checkup on time',
    direction: 'at least',
    target: due.target,
    rule: `Feet still in therapy when the window closed, in the quarter, that were seen on days ${windowInWords(due)} since first fitting.`,
    items: checkupsOfEpisodes(cohort, due, plan),
  };
}
