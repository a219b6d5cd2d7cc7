import type { Finding } from '../../analyses/finding.ts';
import { type CurveFamily } from '../../figures/index.ts';
import { formatTick } from '../../wording/format.ts';
import type { FamilyAxis } from '../parts/analysis-section.ts';

/** Time since first fitting; the title says when half of the slowest group was corrected, where that was reached. */
export function correctionAxis(finding: Finding): (family: CurveFamily) => FamilyAxis {
  return family => {
    const onDose = family.curves.some(curve => curve.timeUnit === 'hundred hours');
    if (onDose) return { timeTitle: 'Hundred hours worn since first fitting', unit: 'feet' };
    const axis = { timeTitle: 'Weeks since first fitting', unit: 'feet' } as const;
    const title = medianTitle(finding, family);
    return title === undefined ? axis : { ...axis, title };
  };
}

export function relapseAxis(): FamilyAxis {
  return { timeTitle: 'Weeks since the step-down', unit: 'step-downs' };
}

/** Curves of spells start with the phase; all others with first fitting. */
export function adherenceAxis(family: CurveFamily): FamilyAxis {
  return family.curves.some(curve => curve.measure.startsWith('Spells'))
    ? { timeTitle: 'Weeks since the phase began', unit: 'phase spells' }
    : { timeTitle: 'Weeks since first fitting', unit: 'feet' };
}

function medianTitle(finding: Finding, family: CurveFamily): string | undefined {
  const slowest = family.curves.at(-1);
  if (slowest === undefined || slowest.direction !== 'climbs') return undefined;
  const median = finding.measures.find(measure => measure.key === `median.${slowest.group}`);
  if (median?.estimate === undefined || median.unit !== 'weeks') return undefined;
  return `Half of ${slowest.group} feet were corrected by week ${formatTick(Math.round(median.estimate * 10) / 10)}`;
}
