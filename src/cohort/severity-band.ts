import type { Plan } from '../plan/plan.ts';
import type { Band, BandOrNone, Flexibility, Grade } from './cohort.ts';

type Severity = Plan['severity'];

/** Highest position of the straight, mild and moderate grade; what lies beyond is severe. */
const SCHEMES: Readonly<Record<Severity['scheme'], readonly [number, number, number]>> = {
  toe: [2.5, 3, 4],
  web: [2.5, 3, 3.5],
};
const GRADES = ['straight', 'mild', 'moderate', 'severe'] as const;
const FLEXIBILITY_GRADES: Readonly<Record<Flexibility, Band>> = {
  'past straight': 'mild',
  'to straight': 'moderate',
  'short of straight': 'severe',
};

/** Grade of the toe position that the heel bisector meets (2 to 5), by a named scheme. */
export function bisectorGrade(position: number, scheme: Severity['scheme']): Grade {
  const [straight, mild, moderate] = SCHEMES[scheme];
  if (position <= straight) return 'straight';
  if (position <= mild) return 'mild';
  return position <= moderate ? 'moderate' : 'severe';
}

/** Grade of how far the forefoot can be brought outward by hand. */
export function flexibilityGrade(flexibility: Flexibility): Band {
  return FLEXIBILITY_GRADES[flexibility];
}

/** The graded findings from which a band is made; undefined where not recorded. */
export interface GradedFindings {
  readonly bisector: Grade | undefined;
  readonly flexibility: Band | undefined;
  readonly crease: boolean | undefined;
}

export type BaselineFindingName = 'bisector' | 'flexibility' | 'crease';

/** The band, and where it is not known, the missing findings that could change it. */
export interface SeverityBand {
  readonly band: BandOrNone;
  readonly missing: readonly BaselineFindingName[];
}

/**
 * Severity band by the rule of the plan. With findings missing, the band is formed for every value they could have
 * had: it is given if all agree, and otherwise not known. A missing finding is named if, with some value of the other
 * missing ones, its own value makes a difference.
 */
export function severityBand(findings: GradedFindings, severity: Severity): SeverityBand {
  const bisectors = findings.bisector === undefined ? GRADES : [findings.bisector];
  const flexibilities: readonly Band[] =
    findings.flexibility === undefined ? ['mild', 'moderate', 'severe'] : [findings.flexibility];
  const creases = findings.crease === undefined ? [false, true] : [findings.crease];

  const bands = bisectors.map(bisector =>
    flexibilities.map(flexibility =>
      creases.map(crease => completeBand(bisector, flexibility, crease, severity)),
    ),
  );
  const all = bands.flat(2);
  const first = all[0];
  if (first !== undefined && all.every(band => band === first)) return { band: first, missing: [] };

  const missing: BaselineFindingName[] = [];
  const atPlace = (i: number, j: number, k: number): BandOrNone | undefined => bands[i]?.[j]?.[k];
  let bisectorMatters = false;
  let flexibilityMatters = false;
  let creaseMatters = false;
  for (let i = 0; i < bisectors.length; i++) {
    for (let j = 0; j < flexibilities.length; j++) {
      for (let k = 0; k < creases.length; k++) {
        const band = atPlace(i, j, k);
        if (band !== atPlace(0, j, k)) bisectorMatters = true;
        if (band !== atPlace(i, 0, k)) flexibilityMatters = true;
        if (band !== atPlace(i, j, 0)) creaseMatters = true;
      }
    }
  }
  if (bisectorMatters) missing.push('bisector');
  if (flexibilityMatters) missing.push('flexibility');
  if (creaseMatters) missing.push('crease');
  return { band: 'not known', missing };
}

function completeBand(bisector: Grade, flexibility: Band, crease: boolean, severity: Severity): Grade {
  if (severity.rule === 'bisector alone') return bisector;
  if (severity.rule === 'flexibility alone') return flexibility;
  if (bisector === 'straight' && flexibility === 'mild') return 'straight';
  const worse = GRADES.indexOf(bisector) > GRADES.indexOf(flexibility) ? bisector : flexibility;
  return worse === 'mild' && crease && severity.creaseLiftsMild ? 'moderate' : worse;
}
