import type { Curve } from '../analyses/finding.ts';

/** Curves that are drawn in one figure. */
export interface CurveFamily {
  readonly key: string;
  readonly curves: readonly Curve[];
}

/** More lines than this in one figure cannot be told apart in grey. */
export const MOST_CURVES = 4;

/**
 * Curves that belong together: those with the same measure whose keys differ only after their last point
 * (`incidence.mild`, `incidence.severe`). A family of more than four is drawn as several, in the order given.
 */
export function curveFamilies(curves: readonly Curve[]): readonly CurveFamily[] {
  const families = new Map<string, { key: string; curves: Curve[] }>();
  for (const curve of curves) {
    const point = curve.key.lastIndexOf('.');
    const key = point > 0 ? curve.key.slice(0, point) : curve.key;
    const identity = JSON.stringify([key, curve.measure, curve.timeUnit]);
    const family = families.get(identity);
    if (family === undefined) families.set(identity, { key, curves: [curve] });
    else family.curves.push(curve);
  }
  const used = new Set<string>();
  return [...families.values()].flatMap(({ key, curves: members }) => {
    // Feet and phase spells can share a key; the measure tells them apart.
    const own = used.has(key)
      ? `${key}.${members[0]?.measure.toLowerCase().replace(/[^a-z0-9]+/g, '-') ?? ''}`
      : key;
    used.add(own);
    const family = { key: own, curves: members };
    const parts = Math.ceil(family.curves.length / MOST_CURVES);
    if (parts === 1) return [family];
    return Array.from({ length: parts }, (_, part) => ({
      key: `${family.key}.${part + 1}`,
      curves: family.curves.slice(part * MOST_CURVES, (part + 1) * MOST_CURVES),
    }));
  });
}
