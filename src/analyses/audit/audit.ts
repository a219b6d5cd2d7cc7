import { formatCount, formatLevel, listInWords } from '../../wording/format.ts';
import type { Analysis, FindingTable, Measure, TraceEntry } from '../finding.ts';
import type { StandardResult, Verdict } from '../standard-result.ts';
import { analysed, countInfants, episodesOf } from '../tools/people.ts';
import { traceItems } from '../tools/trace.ts';
import type { AuditScope } from './audit-scope.ts';
import { inSentence, resultInWords, targetInWords } from './audit-words.ts';
import { quarterAt } from './quarter.ts';
import { itemsOf, standardResult } from './standard-results.ts';

/** Whether the service did, in one quarter, what its standards ask. */
export function audit(scope: AuditScope): Analysis {
  const { plan, quarter, standards, cohort } = scope;
  const results = standards.map(standard => standardResult(standard, quarter, plan));
  const items = standards.flatMap(standard => itemsOf(standard, quarter.ordinal));
  const trace: Record<string, TraceEntry> = {
    analysed: { ...analysed(items), rule: `something fell due in ${quarter.name}` },
  };
  for (const standard of standards) {
    const due = itemsOf(standard, quarter.ordinal);
    const failed = due.filter(item => !item.met);
    trace[`due.${standard.key}`] = traceItems(standard.rule, due);
    trace[`met.${standard.key}`] = traceItems(
      `met: ${standard.rule}`,
      due.filter(item => item.met),
    );
    trace[`failed.${standard.key}`] = traceItems(`not met: ${standard.rule}`, failed);
  }
  return {
    finding: {
      key: 'audit',
      version: 1,
      question: `Did the service do what its standards ask in ${quarter.name}?`,
      statement: statement(results, quarter.name),
      population: { feet: episodesOf(items).length, infants: countInfants(items), leftOut: [] },
      period: { name: quarter.name, firstDay: quarter.firstDay, lastDay: quarter.lastDay },
      standards: results,
      measures: results.flatMap(result => measuresOf(result)),
      curves: [],
      tests: [],
      tables: [standardsTable(scope, results)],
      methods: [
        ...standards.map(standard => ({ text: `${standard.title}: ${standard.rule}`, cites: [] })),
        {
          text: `Shares carry Wilson intervals at ${formatLevel(plan.level)}; changes on the quarter before carry intervals by the hybrid score method`,
          cites: ['wilson-1927', 'newcombe-1998'],
        },
        {
          text: `A standard is met where its share reaches the target, not met where the whole interval falls short of it, and otherwise, or on fewer than ${formatCount(plan.audit.minimumToJudge)}, too few to say`,
          cites: [],
        },
      ],
      cautions: [
        ...(quarter.lastDay > cohort.cutOff
          ? [`The data end before ${quarter.name} does: what falls due later in the quarter is not counted.`]
          : []),
        'What is not recorded counts as not done, so a poor record and a poor service look alike here.',
        'The intervals take feet as independent. Two feet of one infant are seen together, so the true intervals are somewhat wider.',
        'The standards are common practice without a published source. Falling short of one does not show harm, and meeting all does not show good care.',
      ],
    },
    trace,
  };
}

function measuresOf(result: StandardResult): readonly Measure[] {
  const shared = { kind: 'count', unit: 'items' } as const;
  return [
    {
      key: `share.${result.key}`,
      label: result.title,
      kind: 'proportion',
      unit: 'of 1',
      ...(result.share ?? { state: 'nothing fell due' }),
      n: result.n,
      infants: result.infants,
      events: result.count,
    },
    { key: `due.${result.key}`, label: `${result.title}: fell due`, ...shared, estimate: result.n },
    {
      key: `failed.${result.key}`,
      label: `${result.title}: failed`,
      ...shared,
      estimate: result.direction === 'at least' ? result.n - result.count : result.count,
    },
  ];
}

function standardsTable({ quarter, plan }: AuditScope, results: readonly StandardResult[]): FindingTable {
  const before = quarterAt(quarter.ordinal - 1, plan.audit.firstMonthOfYear).name;
  return {
    key: 'standards',
    title: `Audit standards in ${quarter.name}`,
    columns: [
      { key: 'standard', label: 'Standard', kind: 'text' },
      { key: 'count', label: 'n', kind: 'count' },
      { key: 'n', label: 'N', kind: 'count' },
      { key: 'share', label: 'Share', kind: 'proportion', unit: '%' },
      { key: 'verdict', label: 'Verdict', kind: 'text' },
      { key: 'target', label: 'Target', kind: 'text' },
      { key: 'change', label: `Change on ${before}`, kind: 'proportion', unit: 'points' },
    ],
    rows: results.map(result => ({
      standard: result.title,
      count: result.count,
      n: result.n,
      share: result.share,
      target: targetInWords(result),
      verdict: result.n === 0 ? 'nothing fell due' : result.verdict,
      change: result.change,
    })),
    notes: [
      'n: of the N that fell due in the quarter, those that met the standard; for loss to follow-up, those that were lost.',
      'Points: percentage points.',
    ],
  };
}

function statement(results: readonly StandardResult[], quarter: string): string {
  const judged = results.filter(result => result.n > 0);
  if (judged.length === 0) return `Nothing fell due under any standard in ${quarter}.`;
  const of = (verdict: Verdict): readonly StandardResult[] =>
    judged.filter(result => result.verdict === verdict);
  const missed = of('not met');
  const open = of('too few to say');
  const names = (some: readonly StandardResult[]): string =>
    listInWords(some.map(({ title }) => inSentence(title)));
  const parts = [
    `${formatCount(of('met').length)} of ${formatCount(judged.length)} standards were met`,
    missed.length === 0
      ? 'none was clearly missed'
      : `${formatCount(missed.length)} ${missed.length === 1 ? 'was' : 'were'} not met (${names(missed)})`,
    ...(open.length > 0
      ? [`for ${formatCount(open.length)} there were too few to say (${names(open)})`]
      : []),
  ];
  const first = `In ${quarter}, ${listInWords(parts)}.`;
  return missed.length === 0 ? first : `${first} Not met: ${missed.map(resultInWords).join('; ')}.`;
}
