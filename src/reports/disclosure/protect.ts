import type { Count, Finding, HiddenCount } from '../../analyses/finding.ts';
import type { Plan } from '../../plan/plan.ts';
import type { FindingsInput } from '../findings-document.ts';
import { type EarlierVersion, leaksBeside, toldBefore } from './attack.ts';
import { quotedNumbers, quotedPoints } from './quoted-heights.ts';
import { chooseHidden } from './choose-hidden.ts';
import { type CoarseCurve, coarsenCurve, withoutSteps } from './coarsen-curve.ts';
import { type CountModel, countModel } from './count-model.ts';
import type { Hiding } from './hiding.ts';
import { type DisclosurePolicy, disclosurePolicy } from './policy.ts';
import {
  type AuditParts,
  hiddenChanges,
  protectCharts,
  protectFunnels,
  protectStandards,
} from './protect-audit.ts';
import { protectCurves, protectMeanCounts, protectOccupancy } from './protect-courses.ts';
import { protectPlots } from './protect-plots.ts';
import { protectEffects, protectMeasures, protectTests } from './protect-measures.ts';
import { protectTable } from './protect-table.ts';
import { hiddenWords, openSentences, openStatement } from './protect-words.ts';
import { relateCounts } from './relations.ts';

/**
 * Findings, flow and counts of rows as they may be published under `disclosure` of the plan: small counts and all from
 * which they could be worked out stand under a name, curves have coarse steps, and statements hold no hidden number.
 * With `disclosure.suppressBelow` under 2 nothing is hidden. Everything that is published is made from the result.
 *
 * @param earlier versions of the same report that a reader may have; where they would give a hidden count away, others
 * are hidden in its stead
 */
export function protectFindings(
  input: FindingsInput,
  earlier: readonly EarlierVersion[] = [],
): FindingsInput {
  const policy = disclosurePolicy(input.plan);
  if (policy === undefined) {
    return {
      ...input,
      findings: input.findings.map(finding => ({ ...finding, curves: finding.curves.map(withoutSteps) })),
    };
  }
  const model = countModel(input, draft => relateCounts(draft, input));
  const coarse = new Map(
    input.findings.map(finding => [finding.key, coarseCurves(finding, input.plan, policy)]),
  );
  const hidden = new Set<number>();
  for (const finding of input.findings) {
    for (const [key, { hiddenTicks }] of coarse.get(finding.key) ?? []) {
      for (const k of hiddenTicks) {
        const cell = model.cellOf.get(`${finding.key}/curve/${key}/events.${k}`);
        if (cell !== undefined && k > 0) hidden.add(cell);
      }
    }
  }
  const withNames = (names: ReadonlyMap<number, HiddenCount>): FindingsInput =>
    withHidden(input, policy, model, coarse, names);
  const alone = withNames(chooseHidden(model, policy.below, hidden));
  if (leaksBeside(model, alone, earlier, policy.below).length === 0) return alone;
  const told = toldBefore(
    model,
    earlier.map(({ findings }) => findings),
  );
  const beside = withNames(chooseHidden(model, policy.below, hidden, told));
  // What was told openly cannot be helped; the attack then names it beside its version.
  return leaksBeside(model, beside, earlier, policy.below).length === 0 ? beside : alone;
}

function withHidden(
  input: FindingsInput,
  policy: DisclosurePolicy,
  model: CountModel,
  coarse: ReadonlyMap<string, ReadonlyMap<string, CoarseCurve>>,
  names: ReadonlyMap<number, HiddenCount>,
): FindingsInput {
  const nameAt = (path: string): HiddenCount | undefined => {
    const cell = model.cellOf.get(path);
    return cell === undefined ? undefined : names.get(cell);
  };
  const hiddenCounts = new Map<string, number[]>();
  for (const [path, cell] of model.cellOf) {
    const scope = path.slice(0, path.indexOf('/'));
    if (!names.has(cell) || path.includes('/curve/')) continue;
    hiddenCounts.set(scope, [...(hiddenCounts.get(scope) ?? []), model.values[cell] ?? 0]);
  }
  const isTold = (path: string): boolean => nameAt(path) === undefined;
  const audits = new Map(
    input.findings.map(({ key, standards, quarterCharts, funnels }): readonly [string, AuditParts] => [
      key,
      {
        standards: protectStandards(key, standards ?? [], policy, isTold),
        quarterCharts: protectCharts(
          key,
          quarterCharts ?? [],
          policy,
          isTold,
          input.plan.audit.chartMinimumQuarters,
        ),
        funnels: protectFunnels(key, funnels ?? [], policy, isTold),
      },
    ]),
  );
  const charts = [...audits.values()].flatMap(({ quarterCharts }) => quarterCharts ?? []);
  const shown = <T extends Count | undefined>(path: string, count: T): T | HiddenCount =>
    nameAt(path) ?? count;
  return {
    ...input,
    findings: input.findings.map(finding => {
      const audit = audits.get(finding.key) ?? {};
      const curves = coarse.get(finding.key) ?? new Map<string, CoarseCurve>();
      const heights = new Set([
        ...[...curves.values()].flatMap(({ hiddenHeights }) => [...hiddenHeights]),
        ...hiddenChanges(finding, audit, charts),
      ]);
      return protectFinding(
        finding,
        { policy, nameAt, curves, heights },
        (hiddenCounts.get(finding.key) ?? []).filter(count => count > 0),
        audit,
      );
    }),
    flow: input.flow.map(line => ({
      ...line,
      feet: shown(`flow/${line.key}/feet`, line.feet),
      infants: line.infants === undefined ? undefined : shown(`flow/${line.key}/infants`, line.infants),
    })),
    provenance: {
      ...input.provenance,
      files: input.provenance.files.map(file => ({
        ...file,
        read: shown(`rows/${file.file}/read`, file.read),
        accepted: shown(`rows/${file.file}/accepted`, file.accepted),
        refused: shown(`rows/${file.file}/refused`, file.refused),
      })),
      problems: input.provenance.problems.map(problem => ({
        ...problem,
        count: shown(`problems/${problem.file} ${problem.kind} ${problem.severity}`, problem.count),
      })),
    },
  };
}

function coarseCurves(
  finding: Finding,
  plan: Plan,
  policy: DisclosurePolicy,
): ReadonlyMap<string, CoarseCurve> {
  const quoted = quotedNumbers(finding);
  return new Map(
    finding.curves.map(curve => [
      curve.key,
      coarsenCurve(curve, quotedPoints(curve, quoted, finding.statement, plan), policy),
    ]),
  );
}

function protectFinding(
  finding: Finding,
  hiding: Hiding,
  hiddenCounts: readonly number[],
  audit: AuditParts,
): Finding {
  const at = (...steps: readonly string[]): string => [finding.key, ...steps].join('/');
  const count = (path: string, value: Count): Count => hiding.nameAt(path) ?? value;
  const { feet, infants, leftOut } = finding.population;
  const curves = protectCurves(finding, hiding);
  const measures = protectMeasures(finding, hiding);
  // Every field by name: a new kind of content is published only once it stands here. Courses of single feet never do.
  const shown: Omit<Required<Finding>, 'period' | 'courses'> = {
    key: finding.key,
    version: finding.version,
    question: finding.question,
    statement: finding.statement,
    population: {
      feet: count(at('population', 'feet'), feet),
      infants: count(at('population', 'infants'), infants),
      leftOut: leftOut.map(group => ({
        reason: group.reason,
        feet: count(at('left out', group.reason, 'feet'), group.feet),
        infants: count(at('left out', group.reason, 'infants'), group.infants),
      })),
    },
    measures,
    curves,
    tests: protectTests(finding, hiding),
    effects: protectEffects(finding, hiding),
    meanCounts: protectMeanCounts(finding, hiding),
    occupancy: protectOccupancy(finding, hiding),
    plots: protectPlots(finding, curves, hiding),
    standards: audit.standards ?? [],
    quarterCharts: audit.quarterCharts ?? [],
    funnels: audit.funnels ?? [],
    tables: finding.tables.map(table => protectTable(finding, table, hiding, measures)),
    methods: finding.methods,
    cautions: finding.cautions,
  };
  const words = hiddenWords(finding, shown, hiddenCounts, hiding.policy);
  const remarks = finding.cautions.flatMap(caution => openSentences(caution, words).join(' ') || []);
  const { effects, meanCounts, occupancy, plots, standards, quarterCharts, funnels, ...needed } = shown;
  return {
    ...needed,
    ...(finding.effects === undefined ? {} : { effects }),
    ...(finding.meanCounts === undefined ? {} : { meanCounts }),
    ...(finding.occupancy === undefined ? {} : { occupancy }),
    ...(finding.plots === undefined ? {} : { plots }),
    ...(finding.period === undefined ? {} : { period: finding.period }),
    ...(finding.standards === undefined ? {} : { standards }),
    ...(finding.quarterCharts === undefined ? {} : { quarterCharts }),
    ...(finding.funnels === undefined ? {} : { funnels }),
    statement: openStatement(finding, shown, words),
    tables: shown.tables.map(table => ({
      ...table,
      notes: table.notes.flatMap(note => openSentences(note, words).join(' ') || []),
    })),
    cautions: [...remarks, ...curveRemarks(finding, shown)],
  };
}

/** Says which curves are not drawn, so that their absence is not taken for an absence of feet. */
function curveRemarks(
  finding: Finding,
  shown: Pick<Finding, 'curves' | 'meanCounts' | 'occupancy'>,
): readonly string[] {
  const left = new Set(
    [...shown.curves, ...(shown.meanCounts ?? []), ...(shown.occupancy ?? [])].map(({ key }) => key),
  );
  const gone = [...finding.curves, ...(finding.meanCounts ?? [])]
    .filter(({ key }) => !left.has(key))
    .map(({ measure, group }) => `${measure} (${group})`);
  const shares = (finding.occupancy ?? [])
    .filter(({ key }) => !left.has(key))
    .map(({ group }) => `shares of feet (${group})`);
  const all = [...gone, ...shares];
  return all.length === 0
    ? []
    : [`Not drawn, because small numbers could be read from it: ${all.join('; ')}.`];
}
