import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatCount, formatInterval } from '../../wording/format.ts';
import type { Analysis, Cell, Effect, Finding, FindingTable, Measure, TraceEntry } from '../finding.ts';
import { attempt } from '../tools/attempt.ts';
import { cellOf } from '../tools/cells.ts';
import { withLimits } from '../tools/curves.ts';
import { countInfants, population } from '../tools/people.ts';
import { traceFeet } from '../tools/trace.ts';
import { type DurationFits, durationFits } from './fits.ts';
import { type DurationFollowUp, durationFollowUp } from './follow-up.ts';
import { IMPUTED, imputeFindings, isIncomplete } from './impute-findings.ts';
import { bandEffects } from './model-table.ts';
import { type PooledLine, type PooledModels, pooledModels } from './pooled-models.ts';

type Imputed = PooledModels | { readonly state: string };

/** Would the ratios be others if no baseline finding were missing? Multiple imputation beside the complete cases. */
export function durationMissingFindings(
  cohort: Cohort,
  plan: Plan,
  fits: DurationFits = durationFits(cohort, plan),
): Analysis {
  const { used, leftOut, trace } = population(
    cohort.feet.map(foot => durationFollowUp(foot, plan)),
    item =>
      item.foot.band === 'straight'
        ? 'straight at baseline'
        : item.day === 0
          ? 'no day of therapy'
          : undefined,
  );
  const incomplete = used.filter(isIncomplete);
  const imputed: Imputed =
    incomplete.length === 0
      ? { state: 'nothing missing' }
      : attempt(() => pooledModels(imputeFindings(used, plan), plan));
  const effects = 'state' in imputed ? [] : [...imputed.cox, ...imputed.time].map(line => line.effect);
  const missing = missingCounts(used);
  return {
    finding: {
      key: 'duration-missing-findings',
      version: 1,
      question: 'Would severity and duration go together otherwise if no baseline finding were missing?',
      statement: statement(used, incomplete, imputed, fits, plan),
      population: { feet: used.length, infants: countInfants(used), leftOut },
      measures: [...missing.measures, ...ratioMeasures(imputed, used)],
      curves: [],
      tests: [],
      effects,
      tables: [missing.table, comparison(imputed, fits)],
      methods: methods(plan),
      cautions: [
        'Imputation holds if a finding is missing by chance among feet alike in everything else that went into it. It cannot mend findings left out because of how the foot looked.',
      ],
    },
    trace: { ...trace, ...missing.trace },
  };
}

function missingCounts(items: readonly DurationFollowUp[]): {
  readonly measures: readonly Measure[];
  readonly trace: Readonly<Record<string, TraceEntry>>;
  readonly table: FindingTable;
} {
  const groups = [
    ...IMPUTED.map(({ key, label, value }) => ({
      key: `missing.${key}`,
      label: `${label} not recorded`,
      feet: items.filter(item => value(item) === undefined),
    })),
    { key: 'missing.any', label: 'Any of these not recorded', feet: items.filter(isIncomplete) },
    {
      key: 'missing.band',
      label: 'Severity band not known',
      feet: items.filter(item => item.foot.band === 'not known'),
    },
  ];
  return {
    measures: groups.map(({ key, label, feet }) => ({
      key,
      label,
      kind: 'count',
      unit: 'feet',
      estimate: feet.length,
      infants: countInfants(feet),
    })),
    trace: Object.fromEntries(
      groups.map(({ key, label, feet }) => [
        key,
        traceFeet(`not straight at baseline, at least a day of therapy; ${label.toLowerCase()}`, feet),
      ]),
    ),
    table: {
      key: 'missing',
      title: 'What was not recorded at baseline',
      columns: [
        { key: 'finding', label: 'Finding', kind: 'text' },
        { key: 'feet', label: 'Feet', kind: 'mixed' },
      ],
      rows: groups.map(({ label, feet }) => ({
        finding: label,
        feet: { count: feet.length, of: items.length },
      })),
      notes: [],
    },
  };
}

function ratioMeasures(imputed: Imputed, items: readonly DurationFollowUp[]): readonly Measure[] {
  if ('state' in imputed) return [];
  const infants = countInfants(items);
  const measures = (prefix: string, label: string, lines: readonly PooledLine[]): readonly Measure[] =>
    lines
      .filter(line => line.column.startsWith('band.'))
      .map(({ column, effect }) => ({
        key: `${prefix}.imputed.${column.slice('band.'.length)}`,
        label: `${label} to ${effect.reference}, adjusted, imputed`,
        group: column.slice('band.'.length),
        kind: 'ratio',
        unit: 'ratio',
        infants,
        ...quoted(effect),
      }));
  return [
    ...measures('hazard-ratio', 'Hazard ratio of finishing', imputed.cox),
    ...measures('time-ratio', 'Ratio of total duration', imputed.time),
  ];
}

function quoted({ n, events, estimate, lower, upper, state }: Effect) {
  const rests = { ...(n === undefined ? {} : { n }), ...(events === undefined ? {} : { events }) };
  return estimate === undefined
    ? { ...rests, state: state ?? 'no data' }
    : { ...rests, ...withLimits(estimate, lower, upper) };
}

/** Complete cases and imputed, feature by feature. */
function comparison(imputed: Imputed, { cox, time }: DurationFits): FindingTable {
  const lines = 'state' in imputed ? { cox: [], time: [] } : imputed;
  const cell = (of: readonly PooledLine[], column: string): Cell =>
    'state' in imputed ? imputed.state : cellOf(of.find(line => line.column === column)?.effect);
  const columns = cox.adjusted.design.columns;
  const effectOf = (effects: readonly Effect[], key: string, column: string): Cell =>
    cellOf(effects.find(effect => effect.key === `${key}.${column}`));
  return {
    key: 'imputed',
    title: 'Adjusted ratios with missing findings left out and filled in',
    columns: [
      { key: 'feature', label: 'Feature', kind: 'text' },
      { key: 'reference', label: 'Compared with', kind: 'text' },
      { key: 'hazard.complete', label: 'Hazard ratio, complete cases', kind: 'ratio' },
      { key: 'hazard.imputed', label: 'Hazard ratio, imputed', kind: 'ratio' },
      { key: 'time.complete', label: 'Time ratio, complete cases', kind: 'ratio' },
      { key: 'time.imputed', label: 'Time ratio, imputed', kind: 'ratio' },
      { key: 'missing', label: 'Information missing', unit: '%', kind: 'proportion' },
    ],
    rows: columns.map(({ key, label, reference }) => ({
      feature: label,
      reference,
      'hazard.complete': effectOf(cox.adjusted.effects, cox.adjusted.key, key),
      'hazard.imputed': cell(lines.cox, key),
      'time.complete': effectOf(time.adjusted.effects, time.adjusted.key, key),
      'time.imputed': cell(lines.time, key),
      missing: lines.time.find(line => line.column === key)?.missingInformation,
    })),
    notes: [
      `Complete cases: ${cox.adjusted.n} feet.${'state' in imputed ? '' : ` Imputed: ${feetRange(imputed.feet)}.`}`,
      'Information missing: the share of the information on the time ratio that the missing findings took, estimated from how much the completed tables differ.',
    ],
  };
}

function feetRange(feet: readonly number[]): string {
  const least = Math.min(...feet);
  const most = Math.max(...feet);
  return least === most ? `${formatCount(least)} feet` : `${formatCount(least)} to ${formatCount(most)} feet`;
}

function statement(
  items: readonly DurationFollowUp[],
  incomplete: readonly DurationFollowUp[],
  imputed: Imputed,
  { time }: DurationFits,
  plan: Plan,
): string {
  if (incomplete.length === 0) {
    return items.length === 0
      ? 'No foot was followed, so there is nothing to fill in.'
      : `Bisector, flexibility, crease and sex were recorded for all ${items.length} feet, so there is nothing to fill in.`;
  }
  const lacking = `Of ${items.length} feet, ${incomplete.length} lacked bisector, flexibility, crease or sex.`;
  if ('state' in imputed) return `${lacking} They could not be filled in (${imputed.state}).`;
  const last = imputed.time.filter(line => line.column.startsWith('band.')).at(-1);
  if (last?.effect.estimate === undefined) {
    return `${lacking} With these filled in, no ratio between bands can be given.`;
  }
  const band = last.column.slice('band.'.length);
  const words = (effect: Effect): string =>
    effect.estimate === undefined
      ? (effect.state ?? 'none')
      : formatInterval(withLimits(effect.estimate, effect.lower, effect.upper), 'ratio');
  const complete = bandEffects(time.adjusted).find(line => line.band === band)?.effect;
  const beside = complete === undefined ? '' : `, against ${words(complete)} in the complete cases`;
  return `${lacking} With these filled in ${plan.imputation.imputations} times, the adjusted time ratio of ${band} to ${last.effect.reference} feet is ${words(last.effect)}${beside}.`;
}

function methods(plan: Plan): Finding['methods'] {
  return [
    {
      text: `Missing bisector positions, flexibility, crease and sex are filled in ${plan.imputation.imputations} times by chained equations with predictive mean matching (${plan.imputation.iterations} rounds, seed ${plan.seed}). Beside one another the equations take age, both feet treated, site, whether the foot finished, whether it ended otherwise, and the Nelson–Aalen hazard of finishing at its last day. The band is formed anew in each completed table.`,
      cites: ['white-royston-2009', 'little-1988'],
    },
    {
      text: 'The models are fitted in each completed table as in the complete cases, and their coefficients pooled by Rubin’s rules.',
      cites: ['rubin-1987'],
    },
  ];
}
