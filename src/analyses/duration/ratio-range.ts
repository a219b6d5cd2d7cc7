import { formatInterval, listInWords } from '../../wording/format.ts';
import { withLimits } from '../tools/curves.ts';
import type { DurationFits } from './fits.ts';
import { bandEffects } from './model-table.ts';

/** The adjusted time ratio of the worst band under each distribution, in words; nothing where none can be given. */
export function ratioRange({ distributions }: DurationFits): string | undefined {
  const ratios = distributions
    .filter(model => model.adjustment === 'adjusted')
    .flatMap(model => {
      const last = bandEffects(model).at(-1);
      if (last?.effect.estimate === undefined) return [];
      const { estimate, lower, upper, reference } = last.effect;
      const ratio = formatInterval(withLimits(estimate, lower, upper), 'ratio');
      return [{ words: `${ratio} (${model.distribution})`, band: last.band, reference }];
    });
  const [first] = ratios;
  if (first === undefined) return undefined;
  return `Adjusted time ratio of ${first.band} to ${first.reference} feet: ${listInWords(ratios.map(({ words }) => words))}.`;
}
