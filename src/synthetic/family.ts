import { clamp, exponential, logarithm, logistic } from './arithmetic.ts';
import type { LatentInfant } from './infant.ts';
import type { Scenario } from './scenario.ts';
import type { Stream } from './streams.ts';

/** The family's keeping to the hours, day by day; both feet of an infant share it. */
export interface Family {
  /** Moves on by a day: lapses begin and end. */
  readonly nextDay: () => void;
  /** Share of expected hours worn today, before the noise of the foot's own day, on so many prescribed hours. */
  readonly shareWorn: (prescribedHours: number) => number;
}

export function makeFamily(scenario: Scenario, infant: LatentInfant, random: Stream): Family {
  const a = scenario.adherence;
  const fullTime = logistic(a.logOdds.fullTime + infant.adherence);
  const longOvernight = logistic(a.logOdds.longOvernight + infant.adherence);
  const overnight = logistic(a.logOdds.overnight + infant.adherence);
  const chance = clamp(a.lapseChance * exponential(-a.lapsePerFamily * infant.adherence), 0, 0.5);
  let lapseLeft = 0;
  let kept = 1;
  return {
    nextDay: () => {
      if (lapseLeft > 0) {
        lapseLeft -= 1;
        if (lapseLeft === 0) kept = 1;
      } else if (random.chance(chance)) {
        lapseLeft = 1 + Math.floor(-logarithm(random.uniform()) * a.lapseMeanDays);
        kept = random.chance(a.fullStopShare) ? 0 : a.lapseDepth;
      }
    },
    shareWorn: hours => kept * (hours >= 20 ? fullTime : hours > 12 ? longOvernight : overnight),
  };
}
