import { BANDS, type Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatCount, listInWords } from '../../wording/format.ts';
import type { Analysis, Cell, FindingTable, Measure, TraceEntry } from '../finding.ts';
import { withLimits } from '../tools/curves.ts';
import { countInfants, population, reasonNotBanded } from '../tools/people.ts';
import { traceFeet } from '../tools/trace.ts';
import { ageGroups, feetLikeThis, type FootDescription } from './feet-like-this.ts';
import { footLikeThis, type FootLikeThisAnswer } from './foot-like-this.ts';

interface Line extends FootDescription {
  readonly key: string;
}

/** What became of feet like this one: every band, and every band by age group, for use when parents ask. */
export function feetLikeThisOne(cohort: Cohort, plan: Plan): Analysis {
  const { used, leftOut, trace } = population(cohort.feet, reasonNotBanded);
  const groups = ageGroups(plan);
  const lines: readonly Line[] = BANDS.flatMap(band => [
    { key: band, band },
    ...(groups.length < 2 ? [] : groups.map(ageGroup => ({ key: `${band}.${ageGroup}`, band, ageGroup }))),
  ]);
  const answers = lines.map(line => footLikeThis(cohort, plan, description(line)));
  const entries: Record<string, TraceEntry> = {};
  for (const line of lines) {
    const rule = `severity band ${line.band}${line.ageGroup === undefined ? '' : `, ${line.ageGroup} at first fitting`}`;
    const feet = feetLikeThis(cohort.feet, plan, description(line));
    entries[`feet.${line.key}`] = traceFeet(rule, feet);
    entries[`corrected.${line.key}`] = traceFeet(
      `${rule}; corrected`,
      feet.filter(foot => foot.correction.cause === 1),
    );
    entries[`finished.${line.key}`] = traceFeet(
      `${rule}; finished`,
      feet.filter(foot => foot.end === 'finished'),
    );
  }
  return {
    finding: {
      key: 'feet-like-this-one',
      version: 1,
      question: 'What became of feet like this one?',
      statement: statement(answers, plan),
      population: { feet: used.length, infants: countInfants(used), leftOut },
      measures: lines.flatMap((line, place) => measures(line, answers[place])),
      curves: [],
      tests: [],
      tables: [table(answers, plan)],
      methods: [
        {
          text: `Shares are the cumulative incidence of correction with competing ends; weeks to finishing are read from the Kaplan–Meier curve in which referred and withdrawn feet are censored. Nothing is said of fewer than ${formatCount(plan.counselling.minimumFeet)} feet.`,
          cites: ['aalen-johansen-1978', 'kaplan-meier-1958'],
        },
      ],
      cautions: [
        'This describes groups of feet under therapy here; it does not foretell the course of one foot.',
        'Groups differ in more than band and age.',
      ],
    },
    trace: { ...trace, ...entries },
  };
}

function description({ band, ageGroup }: Line): FootDescription {
  return ageGroup === undefined ? { band } : { band, ageGroup };
}

function measures({ key, band, ageGroup }: Line, answer: FootLikeThisAnswer | undefined): readonly Measure[] {
  if (answer === undefined) return [];
  const group = ageGroup === undefined ? band : `${band}, ${ageGroup}`;
  const feet: Measure = {
    key: `feet.${key}`,
    label: 'Feet',
    group,
    kind: 'count',
    unit: 'feet',
    estimate: answer.feet,
    infants: answer.infants,
  };
  const found = [...answer.corrected, ...answer.duration];
  return [feet, ...found.map(measure => ({ ...measure, key: `${measure.key}.${key}`, group }))];
}

function table(answers: readonly FootLikeThisAnswer[], plan: Plan): FindingTable {
  const { reportWeeks } = plan.correction;
  const cell = (measure: Measure | undefined, refused: boolean): Cell => {
    if (refused) return 'too few';
    if (measure?.estimate === undefined) return measure?.state;
    return withLimits(measure.estimate, measure.lower, measure.upper);
  };
  const durations = ['lower-quartile', 'median', 'upper-quartile'] as const;
  return {
    key: 'feet-like-this-one',
    title: 'What became of feet by severity band and age at first fitting',
    columns: [
      { key: 'band', label: 'Severity band', kind: 'text' },
      { key: 'age', label: 'Age at first fitting', kind: 'text' },
      { key: 'feet', label: 'Feet', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      ...reportWeeks.map(week => ({
        key: `week${week}`,
        label: `Corrected by week ${week}`,
        unit: '%',
        kind: 'proportion' as const,
      })),
      { key: 'lower-quartile', label: 'A quarter finished', unit: 'weeks', kind: 'time' },
      { key: 'median', label: 'Half finished', unit: 'weeks', kind: 'time' },
      { key: 'upper-quartile', label: 'Three quarters finished', unit: 'weeks', kind: 'time' },
    ],
    rows: answers.map(answer => ({
      band: answer.description.band,
      age: answer.description.ageGroup ?? 'any',
      feet: answer.feet,
      infants: answer.infants,
      ...Object.fromEntries(
        reportWeeks.map((week, place) => [`week${week}`, cell(answer.corrected[place], answer.refused)]),
      ),
      ...Object.fromEntries(
        durations.map((name, place) => [name, cell(answer.duration[place], answer.refused)]),
      ),
    })),
    notes: [`Too few: fewer than ${formatCount(plan.counselling.minimumFeet)} feet.`],
  };
}

function statement(answers: readonly FootLikeThisAnswer[], plan: Plan): string {
  const whole = answers.filter(answer => answer.description.ageGroup === undefined);
  const told = whole.filter(answer => !answer.refused).map(answer => answer.description.band);
  const withheld = whole.filter(answer => answer.refused).map(answer => answer.description.band);
  const minimum = formatCount(plan.counselling.minimumFeet);
  if (told.length === 0)
    return `No severity band has ${minimum} feet, so nothing is said of what became of feet like this one.`;
  const few =
    withheld.length === 0
      ? ''
      : `; of ${listInWords(withheld)} feet there are fewer than ${minimum}, and nothing is said`;
  return `What became of ${listInWords(told)} feet, by age at first fitting, stands in the table${few}.`;
}
