import {
  formatCount,
  formatDecimal,
  formatLevel,
  formatPercent,
  formatPercentNumber,
  listInWords,
} from '../../wording/format.ts';
import type { Analysis, FindingTable, TestResult, TraceEntry } from '../finding.ts';
import { countInfants } from '../tools/people.ts';
import { traceFeet, traceItems } from '../tools/trace.ts';
import type { UnitFunnel } from '../unit-funnel.ts';
import { type AuditScope, periodOf, quartersUpTo } from './audit-scope.ts';
import { inSentence } from './audit-words.ts';
import { caseMixTable, caseMixTests, feetBySite } from './case-mix.ts';
import { type AuditItem, counts, type Standard } from './standard.ts';
import { unitFunnel } from './unit-funnel.ts';

/** Whether sites and clinicians differ by more than chance, and whether they treat the same feet. */
export function auditComparison(scope: AuditScope): Analysis {
  const { cohort, plan, quarter, standards } = scope;
  const quarters = quartersUpTo(scope, plan.audit.funnelQuarters);
  const ordinals = new Set(quarters.map(({ ordinal }) => ordinal));
  const period = periodOf(quarters, quarter);
  const compared = standards.flatMap(standard => {
    const items = standard.items.filter(item => ordinals.has(item.quarter));
    const funnel = items.length === 0 ? undefined : unitFunnel(standard, items, plan);
    return funnel === undefined ? [] : [{ funnel, trace: unitTrace(standard, funnel, items) }];
  });
  const funnels = compared.map(({ funnel }) => funnel);
  const rule = `first fitted in ${period.name}`;
  const fitted = cohort.feet.filter(
    foot => foot.startDate >= period.firstDay && foot.startDate <= period.lastDay,
  );
  const sites = feetBySite(fitted);
  const tests = caseMixTests(sites);
  const differing = tests.filter(test => test.pValue !== undefined && test.pValue < 1 - plan.level);
  const level = formatLevel(plan.level);
  return {
    finding: {
      key: 'audit-comparison',
      version: 1,
      question: 'Do sites and clinicians differ by more than chance?',
      statement: statement(funnels, period.name, differing),
      population: { feet: fitted.length, infants: countInfants(fitted), leftOut: [] },
      period,
      funnels,
      measures: [
        {
          key: 'fitted',
          label: `Feet first fitted in ${period.name}`,
          kind: 'count',
          unit: 'feet',
          estimate: fitted.length,
          infants: countInfants(fitted),
        },
      ],
      curves: [],
      tests,
      tables: [
        ...(funnels.length > 0 ? [beyondTable(funnels, period.name)] : []),
        caseMixTable(sites, period.name),
      ],
      methods: [
        {
          text: `Funnel plots with exact binomial limits at 95 % and 99.8 % (about two and three standard errors), a result being outside where its tail probability is under 2.5 % or 0.1 %, round ${plan.audit.funnelCentre === 'overall' ? 'the share of all sites together' : 'the target'}; over-dispersion is stated as the mean squared distance in standard errors, the most distant tenth at either end pulled in, and the limits are not widened for it`,
          cites: ['spiegelhalter-2005'],
        },
        {
          text: `A clinician is shown with at least ${formatCount(plan.disclosure.clinicianMinimum)} feet under the standard`,
          cites: [],
        },
        {
          text: `Case mix counts as different where a test passes the ${level} level`,
          cites: [],
        },
      ],
      cautions: [
        'Nothing is adjusted for the feet treated. A site outside the limits differs from the others; the funnel does not say why.',
        'About one in twenty lies outside the inner limits by chance alone.',
        'Sites and clinicians stand in the order of their size. Their results are not ranked, since most of such a ranking is chance.',
        'The limits take feet as independent, so they are somewhat too narrow where many infants have both feet treated.',
      ],
    },
    trace: {
      fitted: traceFeet(rule, fitted),
      analysed: traceFeet(rule, fitted),
      ...(Object.assign({}, ...compared.map(({ trace }) => trace)) as Analysis['trace']),
    },
  };
}

/** What fell due at each site and clinician compared, and what of it counts towards the share shown. */
function unitTrace(
  standard: Standard,
  { key, units }: UnitFunnel,
  items: readonly AuditItem[],
): Readonly<Record<string, TraceEntry>> {
  return Object.fromEntries(
    units.flatMap(({ kind, code }) => {
      const own = items.filter(item => item[kind] === code);
      const where = `at ${kind} ${code}: ${standard.rule}`;
      return [
        [`due.${key}.${kind} ${code}`, traceItems(where, own)],
        [
          `counted.${key}.${kind} ${code}`,
          traceItems(
            `${standard.direction === 'at least' ? 'met' : 'failed'} ${where}`,
            own.filter(item => counts(standard, item)),
          ),
        ],
      ];
    }),
  );
}

function beyondTable(funnels: readonly UnitFunnel[], period: string): FindingTable {
  return {
    key: 'beyond-limits',
    title: `Sites and clinicians outside the limits, ${period}`,
    columns: [
      { key: 'standard', label: 'Standard', kind: 'text' },
      { key: 'unit', label: 'Site or clinician', kind: 'text' },
      { key: 'result', label: 'n/N', kind: 'mixed' },
      { key: 'limits', label: '95 % limits', kind: 'text' },
      { key: 'beyond', label: 'Outside', kind: 'text' },
      { key: 'dispersion', label: 'Dispersion', kind: 'ratio' },
    ],
    rows: funnels.flatMap(funnel =>
      funnel.units
        .filter(unit => unit.beyond !== undefined)
        .map(unit => ({
          standard: funnel.title,
          unit: `${unit.kind} ${unit.code}`,
          result: { count: unit.count, of: unit.n },
          limits: `${formatPercentNumber(unit.inner.lower)} to ${formatPercent(unit.inner.upper)} round ${formatPercent(funnel.centre)}`,
          beyond: unit.beyond === undefined ? undefined : `${unit.beyond.limit}, ${unit.beyond.side}`,
          dispersion: funnel.dispersion[unit.kind],
        })),
    ),
    notes: [
      'Limits are those at the size of the site or clinician. Dispersion: of all sites, or of all clinicians; about 1 where chance alone is at work.',
    ],
  };
}

function statement(funnels: readonly UnitFunnel[], period: string, differing: readonly TestResult[]): string {
  if (funnels.length === 0) return `In ${period} there are too few sites and clinicians to compare.`;
  const units = funnels.flatMap(funnel => funnel.units.map(unit => ({ funnel, unit })));
  const far = units.filter(({ unit }) => unit.beyond?.limit === '99.8 %');
  const near = units.filter(({ unit }) => unit.beyond?.limit === '95 %');
  const named = new Map<string, string[]>();
  for (const { funnel, unit } of far) {
    const name = `${unit.kind} ${unit.code}`;
    const standards = named.get(name) ?? [];
    standards.push(`${inSentence(funnel.title)}, ${unit.beyond?.side ?? ''}`);
    named.set(name, standards);
  }
  const counted = [...named].map(
    ([name, own]) => `${name} (${formatCount(own.length)} ${own.length === 1 ? 'standard' : 'standards'})`,
  );
  const details = [...named].map(([name, own]) => `${name} (${own.join('; ')})`);
  const first =
    far.length === 0
      ? `In ${period} no site or clinician lay beyond the outer limits on any standard.`
      : `In ${period} ${listInWords(counted)} lay beyond the outer limits. Which standards: ${details.join('; ')}.`;
  const second = `Between the inner and the outer limits lay ${formatCount(near.length)} of ${formatCount(units.length)} results; about ${formatDecimal(units.length * 0.05, 0)} outside the inner ones would be expected by chance.`;
  const mix =
    differing.length === 0
      ? ''
      : ` Sites did not treat the same feet (${listInWords(differing.map(({ label }) => inSentence(label)))}), so their results compare with care.`;
  return `${first} ${second}${mix}`;
}
