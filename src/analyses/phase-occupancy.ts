import type { Cohort } from '../cohort/cohort.ts';
import type { Plan } from '../plan/plan.ts';
import { formatInterval, listInWords } from '../wording/format.ts';
import type { Analysis } from './finding.ts';
import { type BackToFullTime, backToFullTime } from './phase-occupancy/back-to-full-time.ts';
import { courseSample } from './phase-occupancy/course-sample.ts';
import { occupancyMeasures, occupancyTrace, returnMeasures } from './phase-occupancy/measures.ts';
import { type GroupOccupancy, groupOccupancies } from './phase-occupancy/shares.ts';
import { FINISHED, LEFT, reasonNoState, statesOf } from './phase-occupancy/state-spells.ts';
import { meanWeeksTable, returnTable, weekTable } from './phase-occupancy/tables.ts';
import { weekTicks } from './tools/week-ticks.ts';
import { climbingCurve } from './tools/curves.ts';
import { countInfants, population } from './tools/people.ts';
import { shareInWords } from './tools/share-words.ts';

/** Where are the feet, week by week: in which phase, finished, or gone; and how many go back to full time? */
export function phaseOccupancy(cohort: Cohort, plan: Plan): Analysis {
  const { used, leftOut, trace } = population(cohort.feet, reasonNoState);
  const states = statesOf(used, plan);
  const groups = groupOccupancies(used, states, plan);
  const returns = backToFullTime(used, plan);
  const [all] = groups;
  const courses = courseSample(used, cohort.stepDowns, states, plan);
  const clustered = plan.clustering.byInfant;
  return {
    finding: {
      key: 'phase-occupancy',
      version: 1,
      question: 'Where are the feet, week by week, and how many go back to full time?',
      statement: statement(groups, returns, plan),
      population: { feet: used.length, infants: countInfants(used), leftOut },
      measures: [
        ...groups.flatMap(group => occupancyMeasures(group, plan)),
        ...returns.flatMap(returnMeasures),
      ],
      curves: returns.map(({ group, items, incidence }) =>
        climbingCurve(
          { key: `back.${group}`, group, measure: 'Feet gone back to full time' },
          items,
          incidence,
          weekTicks(plan),
        ),
      ),
      tests: [],
      occupancy: groups.map(group => group.shares),
      ...(courses === undefined ? {} : { courses }),
      tables:
        all === undefined ? [] : [weekTable(all), meanWeeksTable(groups, plan), returnTable(returns, plan)],
      methods: [
        {
          text: `Share of feet in each phase: the Aalen–Johansen estimate of a process that moves back as well as forward, from the observed moves between phases and to the ends; moving away, loss to follow-up and the data cut-off censor. Mean weeks are the area under each share over ${plan.occupancy.weeks} weeks.${clustered ? ' Standard errors are the infinitesimal jackknife by infant.' : ''}`,
          cites: ['aalen-johansen-1978', 'datta-satten-2001'],
        },
        {
          text: 'Going back to full time is a cumulative incidence from first fitting; finishing and leaving therapy compete.',
          cites: ['aalen-johansen-1978'],
        },
      ],
      cautions: [
        'The phases are those prescribed, not those kept to.',
        'Feet that move away or are lost are taken to be like those still followed.',
      ],
    },
    trace: { ...trace, ...occupancyTrace(groups, returns) },
  };
}

function statement(
  groups: readonly GroupOccupancy[],
  returns: readonly BackToFullTime[],
  plan: Plan,
): string {
  const [all] = groups;
  if (all === undefined) return 'No foot has a phase on record, so phases cannot be described.';
  const phases = all.shares.states.flatMap((state, place) => {
    const mean = all.meanWeeks[place];
    return state === FINISHED || state === LEFT || mean === undefined || 'state' in mean
      ? []
      : [`${formatInterval(mean, 'time')} weeks at ${state}`];
  });
  const spent =
    phases.length === 0
      ? `Feet were not followed long enough to give mean weeks in the first ${plan.occupancy.weeks} weeks.`
      : `In the first ${plan.occupancy.weeks} weeks a foot spent on average ${listInWords(phases)} a day.`;
  const last = returns[0]?.risks.findLast(({ risk }) => !('state' in risk));
  if (last === undefined || 'state' in last.risk) return spent;
  return `${spent} By week ${last.week}, ${shareInWords(last.risk)} had gone back to full time.`;
}
