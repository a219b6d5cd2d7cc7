import { formatCount, listInWords } from '../../wording/format.ts';
import type { Analysis, FindingTable, TraceEntry } from '../finding.ts';
import type { ChartSignal, QuarterChart } from '../quarter-chart.ts';
import { countInfants, episodesOf } from '../tools/people.ts';
import { traceItems } from '../tools/trace.ts';
import { type AuditScope, periodOf, quartersUpTo } from './audit-scope.ts';
import { inSentence } from './audit-words.ts';
import type { Quarter } from './quarter.ts';
import { quarterChart, type Series } from './quarter-series.ts';
import { skinByQuarter, type SkinQuarter } from './skin-rate.ts';
import { counts, type Standard } from './standard.ts';

export const SKIN_CHART = 'skin-rate';

const RULE_SETS: Readonly<Record<string, { readonly name: string; readonly cites: readonly string[] }>> = {
  shewhart: { name: 'Shewhart', cites: ['shewhart-1931'] },
  'western-electric': { name: 'Western Electric', cites: ['western-electric-1956'] },
  nelson: { name: 'Nelson', cites: ['nelson-1984'] },
};

/** Whether the standards and the rate of blisters and sores have changed over the quarters: control and run charts. */
export function auditCharts(scope: AuditScope): Analysis {
  const { cohort, plan, quarter, standards } = scope;
  const quarters = quartersUpTo(scope, plan.audit.quartersShown);
  const skin = skinByQuarter(cohort, plan);
  const names = quarters.map(({ name }) => name);
  const charts = [
    ...standards.map(standard => standardSeries(standard, quarters)),
    skinSeries(skin, quarters),
  ].flatMap(series => quarterChart(series, names, plan) ?? []);
  const rules = RULE_SETS[plan.audit.ruleSet] ?? { name: plan.audit.ruleSet, cites: [] };
  const events = skin.get(quarter.ordinal);
  const trace: Record<string, TraceEntry> = {
    'skin-events': traceItems(
      `blister or pressure sore within therapy in ${quarter.name}`,
      events?.feet ?? [],
    ),
  };
  const shown = new Set(quarters.map(({ ordinal }) => ordinal));
  const items = standards.flatMap(standard => standard.items.filter(item => shown.has(item.quarter)));
  trace.analysed = { rule: 'something fell due in the quarters shown', episodes: episodesOf(items) };
  return {
    finding: {
      key: 'audit-charts',
      version: 1,
      question: 'Has the service changed over the quarters?',
      statement: statement(charts, quarter.name, rules.name),
      population: { feet: episodesOf(items).length, infants: countInfants(items), leftOut: [] },
      period: periodOf(quarters, quarter),
      quarterCharts: charts,
      measures: [
        {
          key: 'skin-events',
          label: `Blisters and pressure sores in ${quarter.name}`,
          kind: 'count',
          unit: 'events',
          estimate: events?.events ?? 0,
        },
      ],
      curves: [],
      tests: [],
      tables: [signalTable(charts)],
      methods: [
        {
          text: 'Standards are drawn as p charts and the rate of blisters and pressure sores as a u chart, round the mean of the quarters shown, each quarter by its own size; the limits of the u chart are three standard errors',
          cites: ['montgomery-2013'],
        },
        {
          text: 'In the p charts a sigma is that of the normal law which leaves as much probability beyond as the binomial law does (mid-P), widened by the root of the design effect of infants with two feet',
          cites: ['lancaster-1961'],
        },
        { text: `Signals follow the ${rules.name} rules`, cites: rules.cites },
        {
          text: `The same points are read as a run chart: ${plan.audit.runChartShift} in a row on one side of the median make a shift; a quarter with fewer than ${formatCount(plan.audit.minimumToJudge)} due is passed over in both readings`,
          cites: ['perla-2011'],
        },
      ],
      cautions: [
        'A signal says that chance alone is an unlikely reason. It does not say what the reason is.',
        `With ${formatCount(charts.length)} charts read together, a signal by chance somewhere in the quarters shown is not rare, and a small change can go unseen.`,
        'The limits of the rate take events as independent. Repeated events of one foot make chance signals more frequent.',
        'In the first quarters of a service only episodes that ended early have ended, so losses look more frequent than they are.',
        ...(quarter.lastDay > cohort.cutOff ? [`The data end before ${quarter.name} does.`] : []),
      ],
    },
    trace,
  };
}

function standardSeries(standard: Standard, quarters: readonly Quarter[]): Series {
  const place = new Map(quarters.map(({ ordinal }, i) => [ordinal, i]));
  const counted = quarters.map(() => 0);
  const sizes = quarters.map(() => 0);
  for (const item of standard.items) {
    const i = place.get(item.quarter);
    if (i === undefined) continue;
    sizes[i] = (sizes[i] ?? 0) + 1;
    if (counts(standard, item)) counted[i] = (counted[i] ?? 0) + 1;
  }
  const { key, title, target } = standard;
  const designEffect = designEffectOf(standard, place);
  return { key, title, kind: 'proportion', unit: 'of 1', target, counts: counted, sizes, designEffect };
}

/**
 * How much more a share varies than one of independent feet would: the squares of what the feet of one infant in one
 * quarter together have beyond the share of all, beside the feet times p (1 - p).
 */
function designEffectOf(standard: Standard, place: ReadonlyMap<number, number>): number {
  const items = standard.items.filter(item => place.has(item.quarter));
  const share = items.filter(item => counts(standard, item)).length / items.length;
  const beyond = new Map<string, number>();
  for (const item of items) {
    const infant = `${item.quarter} ${item.infant}`;
    beyond.set(infant, (beyond.get(infant) ?? 0) + (counts(standard, item) ? 1 : 0) - share);
  }
  const squares = [...beyond.values()].reduce((total, value) => total + value * value, 0);
  const independent = items.length * share * (1 - share);
  return independent > 0 ? squares / independent : 1;
}

function skinSeries(skin: ReadonlyMap<number, SkinQuarter>, quarters: readonly Quarter[]): Series {
  return {
    key: SKIN_CHART,
    title: 'Blisters and pressure sores',
    kind: 'rate',
    unit: 'per 100 foot-weeks',
    counts: quarters.map(({ ordinal }) => skin.get(ordinal)?.events ?? 0),
    sizes: quarters.map(({ ordinal }) => skin.get(ordinal)?.hundredFootWeeks ?? 0),
  };
}

function signalTable(charts: readonly QuarterChart[]): FindingTable {
  const rows = charts.flatMap(chart =>
    [
      ...chart.signals.map(signal => ({ signal, kind: 'control chart' })),
      ...chart.shifts.map(signal => ({ signal, kind: 'run chart' })),
    ].map(({ signal, kind }) => ({
      place: signal.place,
      row: {
        quarter: chart.quarters[signal.place],
        chart: chart.title,
        kind,
        rule: signal.rule,
        side: signal.side,
      },
    })),
  );
  return {
    key: 'signals',
    title: 'Signals in the quarters shown, the latest first',
    columns: [
      { key: 'quarter', label: 'Quarter', kind: 'text' },
      { key: 'chart', label: 'Measure', kind: 'text' },
      { key: 'kind', label: 'Read as', kind: 'text' },
      { key: 'rule', label: 'Rule that fired', kind: 'text' },
      { key: 'side', label: 'Side of the centre', kind: 'text' },
    ],
    rows: [...rows].sort((a, b) => b.place - a.place).map(({ row }) => row),
    notes: [
      'Sigma: how far out one quarter would lie by chance, at the centre line. A long run fires again at each further quarter.',
    ],
  };
}

/** `beyond 3 sigma, below`. */
function signalInWords({ rule, side }: ChartSignal): string {
  return side === undefined ? rule : `${rule}, ${side}`;
}

function statement(charts: readonly QuarterChart[], quarter: string, rules: string): string {
  if (charts.length === 0) return `Too few quarters up to ${quarter} hold enough to draw a chart.`;
  const all = charts.map(chart => ({ chart, signals: [...chart.signals, ...chart.shifts] }));
  const last = (charts[0]?.quarters.length ?? 1) - 1;
  const now = all.flatMap(({ chart, signals }) => {
    const own = signals.filter(({ place }) => place === last);
    return own.length === 0 ? [] : [`${inSentence(chart.title)} (${own.map(signalInWords).join('; ')})`];
  });
  const earlier = all.flatMap(({ chart, signals }) => {
    const when = [...new Set(signals.filter(({ place }) => place < last).map(({ place }) => place))].sort(
      (a, b) => a - b,
    );
    return when.length === 0
      ? []
      : [`${inSentence(chart.title)} in ${listInWords(when.map(place => chart.quarters[place] ?? ''))}`];
  });
  const span = `${formatCount(charts.length)} charts over ${formatCount(last + 1)} quarters were read by the ${rules} rules`;
  const first =
    now.length === 0
      ? `In ${quarter} no measure gave a signal of change; ${span}.`
      : `In ${quarter} there was a signal of change in ${listInWords(now)}; ${span}.`;
  return earlier.length === 0 ? first : `${first} Earlier signals: ${earlier.join('; ')}.`;
}
