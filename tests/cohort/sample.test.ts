// The cohort of the committed sample export, foot by foot, against an independent recomputation in R that starts from
// the same CSV files (tests/reference/sample.md).
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  buildCohort,
  type Cohort,
  countFeet,
  discontinuationInSpell,
  type Foot,
  lapseInSpell,
  type StepDown,
} from '../../src/cohort/index.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { readExport } from '../../src/records/files/read-folder.ts';
import { referenceValues } from '../reference/load.ts';

type Columns = Readonly<Record<string, readonly (string | number | null)[]>>;

interface SampleCohort {
  readonly feet: number;
  readonly infants: number;
  readonly bands: Readonly<Record<string, number>>;
  readonly infantsByBand: Readonly<Record<string, number>>;
  readonly episodes: Columns;
  readonly stepDownTable: Columns;
  readonly spellTable: Columns;
}

const plan = defaultPlan();
const reference = (referenceValues('sample').values as { readonly cohort: SampleCohort }).cohort;

describe('the cohort of the sample export, against an independent recomputation in R', () => {
  let cohort: Cohort = {
    service: undefined,
    cutOff: 0,
    feet: [],
    stepDowns: [],
    pairedAssessments: [],
    flow: [],
  };

  beforeAll(async () => {
    const folder = fileURLToPath(new URL('../../synthetic-data', import.meta.url));
    cohort = buildCohort(await readExport(folder, { plan }), plan);
  });

  it('has the same feet and infants in each band', () => {
    expect(cohort.feet).toHaveLength(reference.feet);
    expect(countFeet(cohort.feet).infants).toBe(reference.infants);
    for (const [band, feet] of Object.entries(reference.bands)) {
      const ofBand = cohort.feet.filter(foot => foot.band === band);
      expect(ofBand, band).toHaveLength(feet);
      const infants = reference.infantsByBand[band];
      if (infants !== undefined) expect(countFeet(ofBand).infants, band).toBe(infants);
    }
  });

  it('agrees on every foot: band, correction, end, lapse and discontinuation', () => {
    expect(cohort.feet.map(footRow)).toEqual(rowsOf(reference.episodes, FOOT_FIELDS));
  });

  it('agrees on every step-down that was followed, and on what followed it', () => {
    const followed = rowsOf(reference.stepDownTable, STEP_FIELDS).filter(
      (_, place) => reference.stepDownTable.state?.[place] === 'followed',
    );
    const ours = cohort.stepDowns.filter(stepDown => stepDown.daysAtRisk > 0).map(stepDownRow);
    expect(ours).toEqual(followed);
    expect(cohort.stepDowns).toHaveLength(reference.stepDownTable.episode?.length ?? 0);
  });

  it('agrees on every phase spell, with lapse and discontinuation within it', () => {
    expect(cohort.feet.flatMap(spellRows)).toEqual(rowsOf(reference.spellTable, SPELL_FIELDS));
  });
});

const FOOT_FIELDS = [
  'episode',
  'infant',
  'band',
  'cause',
  'time',
  'intervalLower',
  'intervalUpper',
  'lastDay',
  'end',
  'lapseDay',
  'lapse',
  'discontinuationDay',
  'discontinuation',
  'spells',
  'wearDays',
];

function footRow(foot: Foot): readonly unknown[] {
  const { day, cause, interval } = foot.correction;
  return [
    foot.episode,
    foot.infant,
    foot.band,
    cause,
    day,
    interval.lower,
    interval.upper === Infinity ? 'Inf' : interval.upper,
    foot.lastDay,
    foot.end,
    foot.lapse?.day ?? null,
    foot.lapse === undefined ? null : Number(foot.lapse.event),
    foot.discontinuation?.day ?? null,
    foot.discontinuation === undefined ? null : Number(foot.discontinuation.event),
    foot.spells.length,
    foot.wear?.day.length ?? 0,
  ];
}

const STEP_FIELDS = ['episode', 'day', 'before', 'after', 'daysInPhaseBefore', 'reference', 'time', 'cause'];

function stepDownRow(stepDown: StepDown): readonly unknown[] {
  return [
    stepDown.episode,
    stepDown.day,
    stepDown.fromHours,
    stepDown.toHours,
    stepDown.daysInPhaseBefore,
    stepDown.referencePosition ?? null,
    stepDown.daysAtRisk,
    stepDown.cause,
  ];
}

const SPELL_FIELDS = [
  'episode',
  'hours',
  'start',
  'end',
  'lapseTime',
  'lapse',
  'discontinuationTime',
  'discontinuation',
];

function spellRows(foot: Foot): readonly (readonly unknown[])[] {
  return foot.spells.map(spell => {
    const lapse = lapseInSpell(foot, spell, plan);
    const discontinuation = discontinuationInSpell(foot, spell, plan);
    return [
      foot.episode,
      spell.prescribedHours,
      spell.startDay,
      spell.endDay,
      lapse?.day ?? null,
      lapse === undefined ? null : Number(lapse.event),
      discontinuation?.day ?? null,
      discontinuation === undefined ? null : Number(discontinuation.event),
    ];
  });
}

function rowsOf(columns: Columns, fields: readonly string[]): readonly (readonly unknown[])[] {
  const n = columns.episode?.length ?? 0;
  return Array.from({ length: n }, (_, row) => fields.map(field => columns[field]?.[row]));
}
