import type { Count, Effect, Finding, Measure, TestResult } from '../../analyses/finding.ts';
import { isHidden, WITHHELD } from '../../wording/hidden-count.ts';
import { type Hiding, isHiddenHeight, shownCount } from './hiding.ts';
import { isSmallShare } from './policy.ts';

/** Measures with small counts, and all that is reckoned from them, under their names. */
export function protectMeasures(finding: Finding, hiding: Hiding): readonly Measure[] {
  const protectedOnes = finding.measures.map(measure => protectMeasure(finding, measure, hiding));
  const hiddenGroups = new Set(
    protectedOnes.flatMap(({ group, kind, state }) =>
      group !== undefined && kind !== 'count' && isHidden(state) ? [group] : [],
    ),
  );
  // A comparison with a group whose number is withheld gives that number away.
  return protectedOnes.map(measure => {
    const compares = measure.kind === 'ratio' || measure.kind === 'difference';
    const touched = [...hiddenGroups].some(
      group => measure.group === group || measure.key.split('.').includes(group),
    );
    return compares && touched && measure.estimate !== undefined
      ? withoutEstimate(measure, WITHHELD)
      : measure;
  });
}

function protectMeasure(finding: Finding, measure: Measure, hiding: Hiding): Measure {
  const at = (field: string): string => `${finding.key}/measure/${measure.key}/${field}`;
  const counts = shownFields(measure, field => at(field), hiding);
  const shown: Measure = { ...measure, ...counts };
  const own = hiding.nameAt(at('estimate'));
  if (own !== undefined) return withoutEstimate(shown, own);
  if (measure.kind === 'count' || measure.estimate === undefined) return shown;
  const rests = isHidden(counts.n) || isHidden(counts.events) || isSmallName(counts.infants);
  const [n, share] = [measure.n, measure.estimate];
  const tooNear =
    measure.kind === 'proportion' && typeof n === 'number' && isSmallShare(share, n, hiding.policy);
  return rests || tooNear || isHiddenHeight(hiding, share) ? withoutEstimate(shown, WITHHELD) : shown;
}

interface CountFields {
  readonly n?: Count;
  readonly infants?: Count;
  readonly events?: Count;
}

function shownFields(of: CountFields, at: (field: string) => string, hiding: Hiding): CountFields {
  const shown: { n?: Count; infants?: Count; events?: Count } = {};
  for (const field of ['n', 'infants', 'events'] as const) {
    const count = of[field];
    if (count !== undefined) shown[field] = shownCount(hiding, at(field), count);
  }
  return shown;
}

function isSmallName(count: Count | undefined): boolean {
  return isHidden(count) && count !== WITHHELD;
}

function withoutEstimate<T extends Measure | Effect>(of: T, state: string): T {
  const { estimate: _, lower: _lower, upper: _upper, ...rest } = of;
  return { ...rest, state } as T;
}

/** Lines of a forest that rest on few feet or few events. */
export function protectEffects(finding: Finding, hiding: Hiding): readonly Effect[] {
  return (finding.effects ?? []).map(effect => {
    const counts = shownFields(effect, field => `${finding.key}/effect/${effect.key}/${field}`, hiding);
    const shown = { ...effect, ...counts };
    const rests = isHidden(counts.n) || isHidden(counts.events);
    return rests && effect.estimate !== undefined ? withoutEstimate(shown, WITHHELD) : shown;
  });
}

/** Tests across curves of which one is not shown, or every one where the curves of a test cannot be told. */
export function protectTests(finding: Finding, hiding: Hiding): readonly TestResult[] {
  const gone = finding.curves.filter(({ key }) => hiding.curves.get(key)?.curve === undefined);
  if (gone.length === 0) return finding.tests;
  const stems = new Set(finding.curves.map(({ key }) => stemOf(key)));
  const goneStems = new Set(gone.map(({ key }) => stemOf(key)));
  const steps = (key: string): readonly string[] => key.split(/[.\s]/);
  return finding.tests.map(test => {
    const own = [...stems].filter(stem => steps(test.key).includes(stem));
    const touched = own.length === 0 || own.some(stem => goneStems.has(stem));
    if (!touched || (test.statistic === undefined && test.pValue === undefined)) return test;
    const { statistic: _, pValue: _p, degreesOfFreedom: _d, ...rest } = test;
    return { ...rest, state: WITHHELD };
  });
}

function stemOf(key: string): string {
  const point = key.indexOf('.');
  return point > 0 ? key.slice(0, point) : key;
}
