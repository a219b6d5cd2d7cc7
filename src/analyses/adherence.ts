import type { Cohort } from '../cohort/cohort.ts';
import type { Plan } from '../plan/plan.ts';
import { formatPercent } from '../wording/format.ts';
import { adherenceByWeek, weekMeasures, weekTable, weekTrace } from './adherence/by-week.ts';
import {
  correctionModels,
  modelEffects,
  modelMeasures,
  modelTable,
  modelTrace,
} from './adherence/correction-models.ts';
import { coveredMeasures, coveredTable, coveredTrace, daysCovered } from './adherence/days-covered.ts';
import {
  diaryAgainstSensor,
  diaryMeasures,
  diaryTable,
  diaryTrace,
} from './adherence/diary-against-sensor.ts';
import {
  bandTest,
  OUTCOMES,
  outcomeCurve,
  outcomeGroups,
  outcomeMeasures,
  outcomeTrace,
} from './adherence/outcome-groups.ts';
import { outcomeTable } from './adherence/outcome-table.ts';
import { adherenceStatement } from './adherence/statement.ts';
import type { Analysis, Finding, Measure } from './finding.ts';
import { countInfants, episodesOf, population } from './tools/people.ts';

/** Do families keep to the hours, when do they lapse or stop, and does it go with correction? */
export function adherence(cohort: Cohort, plan: Plan): Analysis {
  const { used, leftOut, trace } = population(cohort.feet, foot =>
    foot.discontinuation === undefined ? 'no wear data' : undefined,
  );
  const notEvaluable = used.filter(foot => foot.lapse === undefined);
  const groups = OUTCOMES.flatMap(outcome => outcomeGroups(outcome, used, plan));
  const byWeek = adherenceByWeek(used, plan);
  const covered = daysCovered(used, plan);
  const diary = diaryAgainstSensor(cohort.feet, plan);
  const models = correctionModels(cohort.feet, plan);
  const lapseUnseen: Measure = {
    key: 'notEvaluable.lapse',
    label: 'Too few days with wear data for a lapse to be seen',
    kind: 'count',
    unit: 'feet',
    estimate: notEvaluable.length,
    infants: countInfants(notEvaluable),
  };
  return {
    finding: {
      key: 'adherence',
      version: 1,
      question: 'Do families keep to the hours, and when do they lapse or stop?',
      statement: adherenceStatement(groups, plan),
      population: { feet: used.length, infants: countInfants(used), leftOut },
      measures: [
        ...groups.flatMap(group => outcomeMeasures(group, plan)),
        lapseUnseen,
        ...weekMeasures(byWeek),
        ...covered.flatMap(coveredMeasures),
        ...diaryMeasures(diary),
        ...modelMeasures(models),
      ],
      curves: groups.map(group => outcomeCurve(group, plan)),
      tests: OUTCOMES.map(outcome => bandTest(outcome, used)),
      effects: modelEffects(models),
      tables: [
        ...OUTCOMES.map(outcome => outcomeTable(outcome, groups, plan)),
        weekTable(byWeek, plan),
        coveredTable(covered, plan),
        ...(diary.feet.length > 0 ? [diaryTable(diary)] : []),
        modelTable(models),
      ],
      methods: methods(plan),
      cautions: [
        'Only feet with wear data are followed; families who keep a record may differ from those who do not.',
        'Hours reported in a diary tend to exceed hours measured by a sensor.',
        'That adherence and correction go together, or do not, does not show that one brings about the other: feet that do well may be worn for other reasons.',
      ],
    },
    trace: {
      ...trace,
      ...outcomeTrace(groups),
      'notEvaluable.lapse': {
        rule: `wear data, but no day with ${plan.lapse.minimumDays} days of data among the ${plan.lapse.windowDays} up to it`,
        episodes: episodesOf(notEvaluable),
      },
      ...weekTrace(byWeek),
      ...coveredTrace(covered, plan),
      ...diaryTrace(diary),
      ...modelTrace(models),
    },
  };
}

function methods(plan: Plan): Finding['methods'] {
  const clustered = plan.clustering.byInfant;
  return [
    {
      text: `A lapse is the first day on which the mean adherence of ${plan.lapse.windowDays} days is under ${formatPercent(plan.lapse.below)}, reckoned over days with data (at least ${plan.lapse.minimumDays}). Discontinuation is ${plan.discontinuation.daysNotWorn} days in a row recorded as not worn, or withdrawal. ${plan.adherence.missingDays === 'missing' ? 'Days without a record are missing, not zero.' : 'Days without a record count as not worn.'}`,
      cites: [],
    },
    {
      text: `Kaplan–Meier curves with pointwise log-log intervals${clustered ? ', standard errors clustered by infant' : ''}. By phase, time starts at the first day of each spell in the phase, and the end of the spell censors.`,
      cites: ['kaplan-meier-1958', ...(clustered ? ['ying-wei-1994'] : [])],
    },
    {
      text: `Diary against sensor: mean difference and limits of agreement for repeated days, with variance within and between feet; intervals are percentiles of ${plan.adherence.resamples} resamples of ${clustered ? 'infants' : 'feet'}.`,
      cites: ['bland-altman-2007', 'davison-hinkley-1997'],
    },
    {
      text: `Correction by adherence: a Cox model in which the mean adherence of the ${plan.adherence.laggedDays} days before each day changes from day to day, so that wear on the day of correction or after it never explains it; days without a record in that stretch are left out. Adjusted for band${clustered ? ', clustered by infant' : ''}; competing ends censor.`,
      cites: ['cox-1972', 'andersen-gill-1982', ...(clustered ? ['lin-wei-1989'] : [])],
    },
  ];
}
