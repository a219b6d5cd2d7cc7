import type { Plan } from '../../plan/plan.ts';
import { formatInterval, formatPValueSentence, listInWords } from '../../wording/format.ts';
import type { Finding, Measure, TestResult } from '../finding.ts';
import { withLimits } from '../tools/curves.ts';
import { bestFit } from './accelerated-models.ts';
import { finishedOf } from './follow-up.ts';
import type { DurationFits } from './fits.ts';
import { bandEffects } from './model-table.ts';
import { ratioRange } from './ratio-range.ts';

/** The answer in plain words: the time ratio of the worst band with the trend, then the medians. */
export function statement(
  fits: DurationFits,
  medians: readonly Measure[],
  tests: readonly TestResult[],
): string {
  const feet = fits.population.used;
  if (feet.length === 0) return 'No foot with a severity band was followed, so duration cannot be given.';
  if (finishedOf(feet).length === 0) {
    return `None of the ${feet.length} feet with a severity band has finished therapy yet, so duration cannot be given.`;
  }
  return [...ratioSentence(fits, tests), ...betterFitSentence(fits), medianSentence(medians)].join(' ');
}

function ratioSentence({ time }: DurationFits, tests: readonly TestResult[]): readonly string[] {
  const answered = [time.adjusted, time.crude].flatMap(model => {
    const last = bandEffects(model).at(-1);
    return last?.effect.estimate === undefined ? [] : [{ model, ...last, estimate: last.effect.estimate }];
  });
  const [answer] = answered;
  const trend = tests.find(test => test.key === 'trend');
  const evidence =
    trend?.pValue === undefined ? '' : `; trend across bands ${formatPValueSentence(trend.pValue)}`;
  if (answer === undefined) {
    const state = bandEffects(time.crude).at(-1)?.effect.state;
    const why =
      state === undefined
        ? 'feet of one band only'
        : state === 'separated'
          ? 'it has no bound, none of the feet of a band having finished'
          : state;
    return [`No ratio between bands can be given (${why}${evidence}).`];
  }
  const { model, band, effect, estimate } = answer;
  const ratio = formatInterval(withLimits(estimate, effect.lower, effect.upper), 'ratio');
  const others = model.design.columns.filter(column => !column.key.startsWith('band.'));
  const adjustment =
    model.adjustment === 'crude' || others.length === 0
      ? 'not adjusted'
      : `adjusted for ${listInWords(adjustedFor(others.map(column => column.key)))}`;
  return [
    `${capital(band)} feet took ${ratio} times as long to finish therapy as ${effect.reference} feet, ${adjustment} (${model.n} feet, ${model.events} finished${evidence}).`,
  ];
}

/** A ratio by a distribution that does not fit is not to be quoted without the one by the distribution that fits best. */
function betterFitSentence({ distributions }: DurationFits): readonly string[] {
  const best = bestFit(distributions);
  if (best === undefined || best.planned) return [];
  const effect = bandEffects(best).at(-1)?.effect;
  if (effect?.estimate === undefined) return [];
  const ratio = formatInterval(withLimits(effect.estimate, effect.lower, effect.upper), 'ratio');
  return [
    `By the ${best.distribution} distribution, which fits these durations better than the planned one, it was ${ratio} times.`,
  ];
}

const FEATURES = [
  ['age', 'age at start'],
  ['sex.male', 'sex'],
  ['bilateral', 'both feet treated'],
  ['crease', 'medial crease'],
  ['site.', 'site'],
] as const;

function adjustedFor(keys: readonly string[]): readonly string[] {
  return FEATURES.filter(([start]) => keys.some(key => key.startsWith(start))).map(([, words]) => words);
}

function medianSentence(medians: readonly Measure[]): string {
  const times = medians.map(median =>
    median.estimate === undefined
      ? `in ${median.group} feet the median was not reached`
      : `${median.group} feet ${formatInterval(withLimits(median.estimate, median.lower, median.upper), 'time')}`,
  );
  return `Median weeks to finishing therapy, as if no foot were referred or withdrawn: ${times.join('; ')}.`;
}

function capital(word: string): string {
  return `${word.charAt(0).toUpperCase()}${word.slice(1)}`;
}

export function methods(plan: Plan): Finding['methods'] {
  return [
    {
      text: 'Total duration runs from first fitting to the end of therapy by finishing. Median and quartiles are read from the Kaplan–Meier curve, limits by inverting the log-log interval; feet in therapy, moved away or lost to follow-up are censored, and so are referred and withdrawn feet.',
      cites: ['kaplan-meier-1958', 'brookmeyer-crowley-1982'],
    },
    {
      text: 'The share finished by each week is the Aalen–Johansen cumulative incidence, with referral and withdrawal as competing ends. Follow-up is the median of the reverse Kaplan–Meier curve.',
      cites: ['aalen-johansen-1978', 'schemper-smith-1996'],
    },
    {
      text: `The trend across bands is tested by the score test of Cox’s model on scores 1, 2, 3${plan.clustering.byInfant ? ', its variance summed by infant' : ''}; the log-rank test for trend stands beside it.`,
      cites: ['cox-1972', 'lin-wei-1989', 'tarone-1975'],
    },
    {
      text: 'The Jonckheere–Terpstra test and Spearman’s correlation are given among the feet that finished. They leave out the feet still in therapy, which are the slow ones, and are shown for comparison with published work only.',
      cites: ['jonckheere-1954', 'spearman-1904'],
    },
    {
      text: `Hazard ratios of finishing are those of Cox’s model with Efron’s ties, other ends censored; beside them the subdistribution hazard ratios of Fine and Gray, in whose risk sets referred and withdrawn feet remain. Time ratios are those of an accelerated-failure model with a ${plan.duration.distribution} distribution: by how much the time is multiplied. Adjusted models take age at start, sex, both feet treated, medial crease and site, in feet with all of them recorded.`,
      cites: ['cox-1972', 'efron-1977', 'fine-gray-1999', 'wei-1992'],
    },
    plan.clustering.byInfant
      ? {
          text: 'Standard errors allow for two feet of one infant being alike: influences and scores are summed by infant.',
          cites: ['ying-wei-1994', 'lin-wei-1989'],
        }
      : { text: 'Feet are taken as independent.', cites: [] },
    {
      text: 'Published work is divided on the question: in a series of 265 feet of 160 children age at start was the only feature that went with the result, and neither severity nor flexibility did. The models therefore adjust for age at start.',
      cites: ['metatarsus-1983'],
    },
  ];
}

export const CAUTIONS: readonly string[] = [
  'The therapist sees how severe a foot is when deciding how long to go on: a longer therapy of severe feet is partly a plan, and the ratios are associations, not effects of severity.',
  'The tests among finished feet see a selection: feet still in therapy at the cut-off are missing from them, and more of these are severe.',
  'The crease takes part in the severity band, so a model adjusted for it takes away some of the difference between bands.',
];

/** Where another distribution fits better, how much the time ratio hangs on the choice. */
export function distributionCaution(fits: DurationFits): readonly string[] {
  const best = bestFit(fits.distributions);
  const range = ratioRange(fits);
  if (best === undefined || best.planned || range === undefined) return [];
  return [
    `The ${best.distribution} distribution fits the durations better than the planned one (${fits.time.adjusted.distribution}), and the size of the time ratio hangs on that choice. ${range}`,
  ];
}
