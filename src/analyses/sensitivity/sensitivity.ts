import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { ExportRecords } from '../../records/records.ts';
import type { Analysis, Cell, Finding, FindingTable, Measure, TraceEntry } from '../finding.ts';
import { analysed, countInfants, episodesOf } from '../tools/people.ts';
import { cellOf } from '../time-to-correction/measures.ts';
import { timeToCorrection } from '../time-to-correction/time-to-correction.ts';
import { type Alternative, alternatives } from './alternatives.ts';
import { conclusionInWords, conclusionOfLimits, type Variant } from './conclusion.ts';
import { type Headline, headlineOf } from './headline.ts';
import { intervalDating } from './interval-dating.ts';

interface Column extends Variant {
  readonly key: string;
  readonly cells: ReadonlyMap<string, Cell>;
}

/**
 * What would change the conclusion? Every headline number under the plan, and with one setting changed at a time.
 *
 * @param cohort the cohort of these records under this plan
 * @param correction the finding on time to correction of this cohort, if it is at hand
 */
export function sensitivity(
  records: ExportRecords,
  cohort: Cohort,
  plan: Plan,
  correction: Finding = timeToCorrection(cohort, plan).finding,
): Analysis {
  const headline = headlineOf(cohort, plan, ['correction', 'relapse', 'adherence']);
  const main = headline.numbers;
  const trace: Record<string, TraceEntry> = {};
  const columns: Column[] = [];
  for (const alternative of alternatives(records, cohort, plan)) {
    const changed = alternative.apply();
    columns.push(columnOf(alternative, headlineOf(changed.cohort, changed.plan, alternative.touches)));
    trace[`feet.${alternative.key}`] = {
      rule: `accepted episode, ${alternative.label.toLowerCase()}`,
      episodes: episodesOf(changed.cohort.feet),
    };
  }
  columns.push(intervalColumn(correction, cohort, plan));
  return {
    finding: {
      key: 'sensitivity',
      version: 1,
      question: 'What would change the conclusion?',
      statement: cohort.feet.length === 0 ? 'No episode was accepted.' : conclusionInWords(headline, columns),
      population: { feet: cohort.feet.length, infants: countInfants(cohort.feet), leftOut: [] },
      measures: main,
      curves: [],
      tests: [],
      tables: [table(main, columns)],
      methods: [
        {
          text: 'Each headline number is worked out again with one setting changed and all others as in the plan. Interval-censored shares are the least that Turnbull’s estimate allows, medians the stretch that holds them, and the trend is that of a Weibull model of the stretches between checkups.',
          cites: ['turnbull-1976', 'lindsey-ryan-1998'],
        },
      ],
      cautions: [
        'The alternatives share most of their feet, so that agreement between them is no proof. A number can move because other feet are counted or because the same feet are counted otherwise.',
      ],
    },
    trace: {
      ...trace,
      analysed: analysed(cohort.feet),
      'feet.main': { rule: 'accepted episode', episodes: episodesOf(cohort.feet) },
    },
  };
}

function columnOf({ key, label }: Alternative, { numbers, conclusion }: Headline): Column {
  return {
    key,
    label,
    ...(conclusion === undefined ? {} : { conclusion }),
    estimates: new Map(numbers.map(measure => [measure.key, measure.estimate])),
    cells: new Map(numbers.map(measure => [measure.key, cellOf(measure)])),
  };
}

function intervalColumn(correction: Finding, cohort: Cohort, plan: Plan): Column {
  const { cells, trend } = intervalDating(correction, cohort, plan);
  return {
    key: 'interval-censored',
    label: 'Correction between checkups (interval-censored)',
    conclusion: conclusionOfLimits(trend),
    estimates: new Map(
      [...cells].map(([key, cell]) => [
        key,
        typeof cell === 'object' && 'estimate' in cell ? cell.estimate : undefined,
      ]),
    ),
    cells,
  };
}

function table(main: readonly Measure[], columns: readonly Column[]): FindingTable {
  // A band without feet under the plan may have some under an alternative; only what is a headline has a row.
  return {
    key: 'sensitivity',
    title: 'Headline numbers under the plan and with one setting changed at a time',
    columns: [
      { key: 'number', label: 'Headline number', kind: 'text' },
      { key: 'main', label: 'As planned', kind: 'mixed' },
      ...columns.map(({ key, label }) => ({ key, label, kind: 'mixed' as const })),
    ],
    rows: main.map(measure => ({
      number: `${measure.label}${measure.group === undefined ? '' : `, ${measure.group} feet`} (${unitOf(measure)})`,
      main: ofKind(cellOf(measure), measure),
      ...Object.fromEntries(
        columns.map(column => [column.key, ofKind(column.cells.get(measure.key), measure)]),
      ),
    })),
    notes: ['A dash: the alternative does not touch the number, or leaves no feet to count.'],
  };
}

/** The rows of one column are shares, times and ratios. */
function ofKind(cell: Cell, { kind }: Measure): Cell {
  return typeof cell === 'object' && 'estimate' in cell ? { ...cell, kind } : cell;
}

function unitOf({ kind, unit }: Measure): string {
  return kind === 'proportion' ? '%' : kind === 'time' ? unit : 'ratio';
}
