import { BANDS, type Foot, type FollowUp } from '../../cohort/cohort.ts';
import { discontinuationInSpell, lapseInSpell } from '../../cohort/index.ts';
import type { Plan } from '../../plan/plan.ts';
import { StatisticsError } from '../../statistics/errors.ts';
import {
  type LogRankData,
  type LogRankTest,
  logRankTest,
  type SurvivalCurve,
  survivalAt,
  survivalQuantile,
} from '../../statistics/survival/index.ts';
import type { Curve, Measure, TestResult, TraceEntry } from '../finding.ts';
import {
  type CausedFollowUp,
  DAYS_IN_WEEK,
  fallingCurve,
  survivalOf,
  weeks,
  withLimits,
} from '../tools/curves.ts';
import { weekTicks } from '../tools/week-ticks.ts';
import { byGroup, countInfants } from '../tools/people.ts';
import { traceItems } from '../tools/trace.ts';

export const OUTCOMES = ['lapse', 'discontinuation'] as const;
export type Outcome = (typeof OUTCOMES)[number];

/** Feet, or spells of one phase, followed for one outcome. */
export interface OutcomeGroup {
  readonly outcome: Outcome;
  /** A band, a phase such as `24 hours`, or `all`. */
  readonly name: string;
  readonly by: 'all' | 'band' | 'phase';
  readonly items: readonly CausedFollowUp[];
  readonly survival: SurvivalCurve;
}

/** All feet, then by band, then spells by phase; groups without anybody are left out. */
export function outcomeGroups(outcome: Outcome, feet: readonly Foot[], plan: Plan): readonly OutcomeGroup[] {
  const itemsOf = (some: readonly Foot[]): CausedFollowUp[] =>
    some.flatMap(foot => itemOf(foot, foot[outcome]));
  const group = (by: OutcomeGroup['by'], name: string, items: readonly CausedFollowUp[]): OutcomeGroup[] =>
    items.length === 0 ? [] : [{ outcome, by, name, items, survival: survivalOf(items, plan) }];
  const inSpell = outcome === 'lapse' ? lapseInSpell : discontinuationInSpell;
  const phases = [...plan.phases.hours].sort((a, b) => b - a);
  return [
    ...group('all', 'all', itemsOf(feet)),
    ...byGroup(feet, BANDS, foot => foot.band).flatMap(part =>
      group('band', part.group, itemsOf(part.items)),
    ),
    ...phases.flatMap(hours =>
      group(
        'phase',
        `${hours} hours`,
        feet.flatMap(foot =>
          foot.spells
            .filter(spell => spell.prescribedHours === hours)
            .flatMap(spell => itemOf(foot, inSpell(foot, spell, plan))),
        ),
      ),
    ),
  ];
}

function itemOf(foot: Foot, followUp: FollowUp | undefined): CausedFollowUp[] {
  if (followUp === undefined) return [];
  const { episode, infant } = foot;
  return [{ episode, infant, day: followUp.day, cause: followUp.event ? 1 : 0 }];
}

export function keyOf(group: OutcomeGroup): string {
  return `${group.outcome}.${group.name}`;
}

export function eventsOf(group: OutcomeGroup): readonly CausedFollowUp[] {
  return group.items.filter(item => item.cause === 1);
}

/** Median time to the outcome in weeks, or the state of one not reached. */
export function medianOf(group: OutcomeGroup) {
  const { estimate, lower, upper } = survivalQuantile(group.survival, 0.5);
  if (estimate === undefined) return { state: 'not reached' };
  return withLimits(
    weeks(estimate),
    lower === undefined ? undefined : weeks(lower),
    upper === undefined ? undefined : weeks(upper),
  );
}

/** Weeks of the axis at which somebody of the group was still followed. */
export function weeksShown(group: OutcomeGroup, plan: Plan): readonly number[] {
  const last = group.items.reduce((most, item) => Math.max(most, item.day), 0);
  return plan.figures.weekTicks.filter(week => week > 0 && week * DAYS_IN_WEEK <= last);
}

export function without(group: OutcomeGroup, week: number) {
  const [row] = survivalAt(group.survival, [week * DAYS_IN_WEEK]);
  return row === undefined ? { state: 'no data' } : withLimits(row.survival, row.lower, row.upper);
}

export function outcomeMeasures(group: OutcomeGroup, plan: Plan): readonly Measure[] {
  const events = eventsOf(group);
  const unit = group.by === 'phase' ? 'spells' : 'feet';
  const rests = { n: group.items.length, infants: countInfants(group.items), events: events.length };
  const count = (key: string, label: string, items: readonly CausedFollowUp[]): Measure => ({
    key: `${key}.${keyOf(group)}`,
    label,
    group: group.name,
    kind: 'count',
    unit,
    estimate: items.length,
    infants: countInfants(items),
  });
  return [
    count('followed', 'Followed', group.items),
    count('events', group.outcome === 'lapse' ? 'Lapses' : 'Discontinuations', events),
    {
      key: `median.${keyOf(group)}`,
      label: `Median time to ${group.outcome}`,
      group: group.name,
      kind: 'time',
      unit: 'weeks',
      ...rests,
      ...medianOf(group),
    },
    ...weeksShown(group, plan).map(
      (week): Measure => ({
        key: `without.week${week}.${keyOf(group)}`,
        label: `Without ${group.outcome} at week ${week}`,
        group: group.name,
        kind: 'proportion',
        unit: 'of 1',
        ...rests,
        ...without(group, week),
      }),
    ),
  ];
}

export function outcomeTrace(groups: readonly OutcomeGroup[]): Readonly<Record<string, TraceEntry>> {
  const entries: Record<string, TraceEntry> = {};
  for (const group of groups) {
    const of = group.by === 'all' ? 'feet with wear data' : `${group.by} ${group.name}, with wear data`;
    entries[`followed.${keyOf(group)}`] = traceItems(of, group.items);
    entries[`events.${keyOf(group)}`] = traceItems(`${of}; ${group.outcome} seen`, eventsOf(group));
  }
  return entries;
}

export function outcomeCurve(group: OutcomeGroup, plan: Plan): Curve {
  const unit = group.by === 'phase' ? 'Spells' : 'Feet';
  return fallingCurve(
    { key: keyOf(group), group: group.name, measure: `${unit} without ${group.outcome}` },
    group.items,
    group.survival,
    weekTicks(plan),
  );
}

/** Difference between bands, feet as independent. */
export function bandTest(outcome: Outcome, feet: readonly Foot[]): TestResult {
  const items = feet.flatMap(foot => {
    const followUp = foot[outcome];
    return followUp === undefined || !BANDS.some(band => band === foot.band)
      ? []
      : [{ band: foot.band, followUp }];
  });
  const present = BANDS.filter(band => items.some(item => item.band === band));
  const common = {
    key: `log-rank.${outcome}`,
    label: `Difference in time to ${outcome} between bands`,
    method: 'log-rank test across bands, feet as independent',
  };
  if (present.length < 2) return { ...common, state: 'fewer than two bands' };
  if (!items.some(item => item.followUp.event)) return { ...common, state: 'no events' };
  const test = logRankOf(
    {
      time: items.map(item => item.followUp.day),
      event: items.map(item => item.followUp.event),
      group: items.map(item => item.band),
    },
    present,
  );
  if (test === undefined) return { ...common, state: 'no event while two bands were followed' };
  const { statistic, degreesOfFreedom, pValue } = test;
  return { ...common, statistic, degreesOfFreedom, pValue };
}

/** Undefined where no event was seen while two bands were followed: there is then nothing to compare. */
function logRankOf(data: LogRankData, groups: readonly string[]): LogRankTest | undefined {
  try {
    return logRankTest(data, { groups });
  } catch (error) {
    if (error instanceof StatisticsError && error.code === 'no-events') return undefined;
    throw error;
  }
}
