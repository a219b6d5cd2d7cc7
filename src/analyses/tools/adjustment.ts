import { BANDS, type Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { LeftOut } from '../finding.ts';
import { clusterOf } from './curves.ts';
import { countInfants, type OfOneFoot, population } from './people.ts';

/** A column of a model in words. */
export interface ModelColumn {
  /** Such as `band.severe`, `age`, `site.north`. */
  readonly key: string;
  readonly label: string;
  /** What it is compared with. */
  readonly reference: string;
  readonly values: readonly number[];
}

/** The feet that a model uses, and its columns; what is the same in all of them is named in `same`. */
export interface Design<T extends OfOneFoot> {
  readonly items: readonly T[];
  readonly columns: readonly ModelColumn[];
  readonly same: readonly string[];
  readonly leftOut: readonly LeftOut[];
}

interface OfFoot extends OfOneFoot {
  readonly foot: Foot;
}

const DAYS_IN_FOUR_WEEKS = 28;

/** Severity bands alone, the mildest that occurs as reference. */
export function crudeDesign<T extends OfFoot>(items: readonly T[]): Design<T> {
  return { items, ...split(bandColumns(items)), leftOut: [] };
}

/**
 * Band, age at start, sex, both feet treated, crease and site, for feet of which all of these are recorded. Indicators
 * are 1 or 0; age is in units of four weeks; the first site by code is the reference.
 */
export function adjustedDesign<T extends OfFoot>(items: readonly T[]): Design<T> {
  const { used, leftOut } = population(items, ({ foot }) => missingFeature(foot));
  const indicator = (key: string, label: string, reference: string, holds: (foot: Foot) => boolean) => ({
    key,
    label,
    reference,
    values: used.map(({ foot }) => (holds(foot) ? 1 : 0)),
  });
  const sites = [...new Set(used.map(({ foot }) => foot.site))].sort();
  const columns: readonly ModelColumn[] = [
    ...bandColumns(used),
    {
      key: 'age',
      label: 'Age at start',
      reference: 'four weeks younger',
      values: used.map(({ foot }) => foot.ageAtStartDays / DAYS_IN_FOUR_WEEKS),
    },
    indicator('sex.male', 'Male', 'female', foot => foot.sex === 'male'),
    indicator('bilateral', 'Both feet treated', 'one foot treated', foot => foot.bilateral),
    indicator('crease', 'Medial crease', 'no crease', foot => foot.baseline.medialCrease === true),
    ...sites
      .slice(1)
      .map(site =>
        indicator(`site.${site}`, `Site ${site}`, `site ${sites[0] ?? ''}`, foot => foot.site === site),
      ),
  ];
  return { items: used, ...split(columns), leftOut };
}

/** Cluster labels of a model; none where the plan takes feet as independent or there is a single infant. */
export function independentIfAlone(
  items: readonly OfOneFoot[],
  plan: Plan,
): { readonly cluster?: readonly string[] } {
  return countInfants(items) < 2 ? {} : clusterOf(items, plan);
}

function missingFeature(foot: Foot): string | undefined {
  const missing = [
    ...(foot.sex === undefined || foot.sex === 'not recorded' ? ['sex'] : []),
    ...(foot.baseline.medialCrease === undefined ? ['crease'] : []),
  ];
  return missing.length === 0 ? undefined : `${missing.join(' and ')} not recorded`;
}

function bandColumns(items: readonly OfFoot[]): readonly ModelColumn[] {
  const present = BANDS.filter(band => items.some(({ foot }) => foot.band === band));
  return present.slice(1).map(band => ({
    key: `band.${band}`,
    label: `${band.charAt(0).toUpperCase()}${band.slice(1)}`,
    reference: present[0] ?? '',
    values: items.map(({ foot }) => (foot.band === band ? 1 : 0)),
  }));
}

/** A column that is the same in every foot cannot be told from the baseline hazard. */
function split(columns: readonly ModelColumn[]): Pick<Design<OfOneFoot>, 'columns' | 'same'> {
  const varies = ({ values }: ModelColumn): boolean => values.some(value => value !== values[0]);
  return {
    columns: columns.filter(varies),
    same: columns.filter(column => !varies(column)).map(column => column.label.toLowerCase()),
  };
}
