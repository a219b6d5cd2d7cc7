import { BANDS, type Cohort, type Foot, type FollowUp } from '../cohort/cohort.ts';
import { discontinuationInSpell, lapseInSpell } from '../cohort/index.ts';
import type { Plan } from '../plan/plan.ts';
import {
  logRankTest,
  type SurvivalCurve,
  survivalAt,
  survivalQuantile,
} from '../statistics/survival/index.ts';
import {
  formatPercent,
  formatPValueSentence,
  formatShare,
  formatTime,
  listInWords,
} from '../wording/format.ts';
import type { Analysis, Curve, FindingTable, Measure, TestResult, TraceEntry } from './finding.ts';
import {
  type CausedFollowUp,
  DAYS_IN_WEEK,
  fallingCurve,
  survivalOf,
  weeks,
  withLimits,
} from './tools/curves.ts';
import { byGroup, countInfants, episodesOf, population } from './tools/people.ts';

type Outcome = 'lapse' | 'discontinuation';

interface Group {
  readonly outcome: Outcome;
  /** A band, a phase such as `24 hours`, or `all`. */
  readonly name: string;
  readonly by: 'all' | 'band' | 'phase';
  readonly items: readonly CausedFollowUp[];
  readonly survival: SurvivalCurve;
}

/** Do families keep to the hours, and when do they lapse or stop? */
export function adherence(cohort: Cohort, plan: Plan): Analysis {
  const { used, leftOut, trace } = population(cohort.feet, foot =>
    foot.discontinuation === undefined
      ? 'no wear data'
      : foot.lapse === undefined
        ? 'too few days with wear data for a lapse to be seen'
        : undefined,
  );
  const groups = (['lapse', 'discontinuation'] as const).flatMap(outcome => groupsOf(outcome, used, plan));
  const tests = (['lapse', 'discontinuation'] as const).map(outcome => bandTest(outcome, used));
  return {
    finding: {
      key: 'adherence',
      version: 1,
      question: 'Do families keep to the hours, and when do they lapse or stop?',
      statement: statement(groups, tests, plan),
      population: { feet: used.length, infants: countInfants(used), leftOut },
      measures: groups.flatMap(group => measures(group, plan)),
      curves: groups.map(group => curve(group, plan)),
      tests,
      tables: (['lapse', 'discontinuation'] as const).map(outcome => table(outcome, groups, plan)),
      methods: [
        {
          text: `A lapse is the first day on which the mean adherence of ${plan.lapse.windowDays} days is under ${formatPercent(plan.lapse.below)}, reckoned over days with data (at least ${plan.lapse.minimumDays}). Discontinuation is ${plan.discontinuation.daysNotWorn} days in a row recorded as not worn, or withdrawal. ${plan.adherence.missingDays === 'missing' ? 'Days without a record are missing, not zero.' : 'Days without a record count as not worn.'}`,
          cites: [],
        },
        {
          text: `Kaplan–Meier curves with pointwise log-log intervals${plan.clustering.byInfant ? ', standard errors clustered by infant' : ''}. By phase, time starts at the first day of each spell in the phase, and the end of the spell censors.`,
          cites: ['kaplan-meier-1958', ...(plan.clustering.byInfant ? ['ying-wei-1994'] : [])],
        },
      ],
      cautions: [
        'Only feet with wear data are followed; families who keep a record may differ from those who do not.',
        'Hours reported in a diary tend to exceed hours measured by a sensor.',
      ],
    },
    trace: { ...trace, ...countTrace(groups) },
  };
}

function followUpItem(foot: Foot, followUp: FollowUp): CausedFollowUp {
  return { episode: foot.episode, infant: foot.infant, day: followUp.day, cause: followUp.event ? 1 : 0 };
}

function groupsOf(outcome: Outcome, feet: readonly Foot[], plan: Plan): readonly Group[] {
  const itemsOf = (some: readonly Foot[]): CausedFollowUp[] =>
    some.flatMap(foot => {
      const followUp = foot[outcome];
      return followUp === undefined ? [] : [followUpItem(foot, followUp)];
    });
  const group = (by: Group['by'], name: string, items: readonly CausedFollowUp[]): Group[] =>
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
            .flatMap(spell => {
              const followUp = inSpell(foot, spell, plan);
              return followUp === undefined ? [] : [followUpItem(foot, followUp)];
            }),
        ),
      ),
    ),
  ];
}

function keyOf(group: Group): string {
  return `${group.outcome}.${group.name}`;
}

function measures(group: Group, plan: Plan): readonly Measure[] {
  const events = group.items.filter(item => item.cause === 1);
  const unit = group.by === 'phase' ? 'spells' : 'feet';
  const rests = { n: group.items.length, infants: countInfants(group.items), events: events.length };
  const median = survivalQuantile(group.survival, 0.5);
  return [
    {
      key: `followed.${keyOf(group)}`,
      label: 'Followed',
      group: group.name,
      kind: 'count',
      unit,
      estimate: group.items.length,
      infants: countInfants(group.items),
    },
    {
      key: `events.${keyOf(group)}`,
      label: group.outcome === 'lapse' ? 'Lapses' : 'Discontinuations',
      group: group.name,
      kind: 'count',
      unit,
      estimate: events.length,
      infants: countInfants(events),
    },
    {
      key: `median.${keyOf(group)}`,
      label: `Median time to ${group.outcome}`,
      group: group.name,
      kind: 'time',
      unit: 'weeks',
      ...rests,
      ...(median.estimate === undefined
        ? { state: 'not reached' }
        : withLimits(
            weeks(median.estimate),
            median.lower === undefined ? undefined : weeks(median.lower),
            median.upper === undefined ? undefined : weeks(median.upper),
          )),
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

/** Weeks of the axis at which somebody of the group was still followed. */
function weeksShown(group: Group, plan: Plan): readonly number[] {
  const last = Math.max(...group.items.map(item => item.day));
  return plan.figures.weekTicks.filter(week => week > 0 && week * DAYS_IN_WEEK <= last);
}

function without(group: Group, week: number) {
  const [row] = survivalAt(group.survival, [week * DAYS_IN_WEEK]);
  return row === undefined ? { state: 'no data' } : withLimits(row.survival, row.lower, row.upper);
}

function countTrace(groups: readonly Group[]): Readonly<Record<string, TraceEntry>> {
  const entries: Record<string, TraceEntry> = {};
  for (const group of groups) {
    const of = group.by === 'all' ? 'feet with wear data' : `${group.by} ${group.name}, with wear data`;
    entries[`followed.${keyOf(group)}`] = { rule: of, episodes: episodesOf(group.items) };
    entries[`events.${keyOf(group)}`] = {
      rule: `${of}; ${group.outcome} seen`,
      episodes: episodesOf(group.items.filter(item => item.cause === 1)),
    };
  }
  return entries;
}

function bandTest(outcome: Outcome, feet: readonly Foot[]): TestResult {
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
  const { statistic, degreesOfFreedom, pValue } = logRankTest(
    {
      time: items.map(item => item.followUp.day),
      event: items.map(item => item.followUp.event),
      group: items.map(item => item.band),
    },
    { groups: present },
  );
  return { ...common, statistic, degreesOfFreedom, pValue };
}

function curve(group: Group, plan: Plan): Curve {
  const unit = group.by === 'phase' ? 'Spells' : 'Feet';
  return fallingCurve(
    { key: keyOf(group), group: group.name, measure: `${unit} without ${group.outcome}` },
    group.items,
    group.survival,
    plan.figures.weekTicks,
  );
}

function table(outcome: Outcome, groups: readonly Group[], plan: Plan): FindingTable {
  const shown = groups.filter(group => group.outcome === outcome);
  const ticks = plan.figures.weekTicks.filter(week => week > 0);
  return {
    key: outcome,
    title: outcome === 'lapse' ? 'Time to lapse' : 'Time to discontinuation',
    columns: [
      { key: 'group', label: 'Feet or spells', kind: 'text' },
      { key: 'followed', label: 'Followed', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      { key: 'events', label: outcome === 'lapse' ? 'Lapses' : 'Discontinuations', kind: 'count' },
      ...ticks.map(week => ({
        key: `week${week}`,
        label: `Without ${outcome} at week ${week}`,
        unit: '%',
        kind: 'proportion' as const,
      })),
    ],
    rows: shown.map(group => ({
      group:
        group.by === 'band'
          ? `${group.name} feet`
          : group.by === 'phase'
            ? `spells of ${group.name}`
            : 'all feet',
      followed: group.items.length,
      infants: countInfants(group.items),
      events: group.items.filter(item => item.cause === 1).length,
      ...Object.fromEntries(
        weeksShown(group, plan).map(week => {
          const value = without(group, week);
          return [`week${week}`, 'state' in value ? value.state : value];
        }),
      ),
    })),
    notes: ['Feet are timed from first fitting, spells from the first day of the phase.'],
  };
}

function statement(groups: readonly Group[], tests: readonly TestResult[], plan: Plan): string {
  const sentences = (['lapse', 'discontinuation'] as const).flatMap(outcome => {
    const all = groups.find(group => group.outcome === outcome && group.by === 'all');
    if (all === undefined) return [];
    const events = all.items.filter(item => item.cause === 1).length;
    const median = survivalQuantile(all.survival, 0.5).estimate;
    const verb = outcome === 'lapse' ? 'lapsed' : 'stopped wearing the brace';
    const middle =
      median === undefined
        ? 'fewer than half had done so by the end of follow-up'
        : `median ${formatTime(weeks(median), 'weeks')}`;
    const bands = groups
      .filter(group => group.outcome === outcome && group.by === 'band')
      .flatMap(group => {
        const week = weeksShown(group, plan)[1];
        const value = week === undefined ? undefined : without(group, week);
        return value === undefined || 'state' in value
          ? []
          : [
              `${formatPercent(value.estimate)} of ${group.name} feet were without ${outcome} at week ${week}`,
            ];
      });
    const test = tests.find(result => result.key === `log-rank.${outcome}`);
    const evidence =
      test?.pValue === undefined
        ? ''
        : ` (difference between bands ${formatPValueSentence(test.pValue)}, feet as independent)`;
    return [
      `Families of ${formatShare(events, all.items.length)} feet ${verb} (${middle}).${bands.length === 0 ? '' : ` Of those followed, ${listInWords(bands)}${evidence}.`}`,
    ];
  });
  return sentences.length === 0
    ? 'No foot has enough wear data, so adherence cannot be described.'
    : sentences.join(' ');
}
