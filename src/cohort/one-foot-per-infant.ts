import type { BandOrNone, Foot } from './cohort.ts';
import { compareCodes } from './group-by-episode.ts';

/** Which foot of an infant is kept, first to last. */
const ORDER: readonly BandOrNone[] = ['severe', 'moderate', 'mild', 'straight', 'not known'];

type Ranked = Pick<Foot, 'episode' | 'infant' | 'band'>;

/** One foot of each infant: the one with the worse band, of equals the one with the lower episode code. Keeps the order. */
export function oneFootPerInfant<F extends Ranked>(feet: readonly F[]): readonly F[] {
  const kept = new Map<string, F>();
  for (const foot of feet) {
    const held = kept.get(foot.infant);
    if (held === undefined || comesBefore(foot, held)) kept.set(foot.infant, foot);
  }
  return feet.filter(foot => kept.get(foot.infant) === foot);
}

function comesBefore(a: Ranked, b: Ranked): boolean {
  const worse = ORDER.indexOf(a.band) - ORDER.indexOf(b.band);
  return worse < 0 || (worse === 0 && compareCodes(a.episode, b.episode) < 0);
}
