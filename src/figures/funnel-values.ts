import type { Limits, UnitFunnel } from '../analyses/unit-funnel.ts';
import { formatCount, formatPercentNumber, NOTHING } from '../wording/format.ts';
import type { FigureValues } from './figure.ts';

/** Each site and clinician beside the limits at its size. */
export function funnelValues({ units }: UnitFunnel): FigureValues {
  const between = ({ lower, upper }: Limits): string =>
    `${formatPercentNumber(lower)} to ${formatPercentNumber(upper)}`;
  return {
    columns: [
      { label: 'Site or clinician' },
      { label: 'Fell due', unit: 'feet' },
      { label: 'Share', unit: '%' },
      { label: '95 % limits', unit: '%' },
      { label: '99.8 % limits', unit: '%' },
      { label: 'Outside' },
    ],
    rows: units.map(({ code, n, value, inner, outer, beyond }) => ({
      cells: [
        code,
        formatCount(n),
        formatPercentNumber(value, n),
        between(inner),
        between(outer),
        beyond === undefined ? NOTHING : `${beyond.side} the ${beyond.limit} limit`,
      ],
    })),
  };
}
