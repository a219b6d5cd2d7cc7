import { formatDecimal, listInWords } from '../../src/wording/format.ts';
import { UNPLANTED_CHARTS } from './audit-readings.ts';
import type { Target } from './estimands.ts';
import type { Recovery } from './judge.ts';
import { STUDY_BANDS, type StudyBand } from './large-cohort.ts';
import { findRecovery, METHODS } from './report-tables.ts';
import type { ScenarioRecovery } from './study.ts';

type Topic = Recovery['topic'];
export type Looked = (
  scenario: string,
  method: string,
  what: string,
  topic: Topic,
  target?: Target,
) => Recovery;

/** What the page says of the visit-dated and the interval-censored estimate, and of the tests; the first is the answer. */
export function inBriefTexts(scenarios: readonly ScenarioRecovery[]): readonly string[] {
  const look = lookIn(scenarios);
  const median = (method: string) =>
    each(band => formatDecimal(look('ordinary-clinic', method, band, 'median').bias ?? 0, 1));
  const week6 = (method: string, of: (recovery: Recovery) => string) =>
    each(band => of(look('ordinary-clinic', method, `${band}, week 6`, 'correction')));
  return [
    `Dated at checkups, the median time to correction is late by ${median(METHODS.kaplanMeier)} weeks in mild, moderate and severe feet of the ordinary clinic: feet are straight before a checkup sees it. The interval-censored estimate is not: the middle of its range is off by ${median(METHODS.middle)} weeks.`,
    `By week 6, ${week6(METHODS.kaplanMeier, ({ truth }) => formatDecimal(100 * truth, 0))} % of mild, moderate and severe feet are truly straight. The visit-dated estimate is off by ${week6(METHODS.kaplanMeier, points)} percentage points, and its 95 % interval holds the truth in ${week6(METHODS.kaplanMeier, held)} % of exports. The interval-censored one is off by ${week6(METHODS.lower, points)} points, and its interval holds the truth in ${week6(METHODS.lower, held)} %. Of what checkups have seen, the visit-dated estimate is right to about two points; it is no estimate of when feet are straight.`,
    `The trend test with its variance summed by infant rejects in ${rejected(scenarios, 'no-effect-of-severity')} of exports where severity has no effect, in ${rejected(scenarios, 'ordinary-clinic')} in the ordinary clinic and in ${rejected(scenarios, 'strong-effect')} where its effect is strong.`,
  ];
}

/** Where the methods of this package fail, each with its figure. */
export function failureTexts(scenarios: readonly ScenarioRecovery[]): readonly string[] {
  const look = lookIn(scenarios);
  const weibull = look('ordinary-clinic', METHODS.weibull, 'moderate, week 8', 'correction');
  const later = each(band =>
    points(look('ordinary-clinic', METHODS.lower, `${band}, week 12`, 'correction')),
  );
  const dropOut = look('informative-drop-out', METHODS.lower, 'severe, week 8', 'correction');
  const onFullTime = look('informative-drop-out', 'Aalen–Johansen', '24 hours, week 6', 'phases');
  const tiny = look('tiny-clinic', METHODS.weibull, 'mild, week 8', 'correction');
  const ratio = look('ordinary-clinic', 'Weibull time ratio', 'severe to mild', 'duration');
  const lapse = look(
    'ordinary-clinic',
    'Kaplan–Meier, diaries and sensors',
    'without lapse by week 6',
    'lapse',
  );
  const skin = look('failing-site', 'Rate', 'any skin event', 'skin');
  return [
    `The Weibull model of the time to correction: the share of moderate feet by week 8 is off by ${points(weibull)} points, and its 95 % interval holds the truth in ${held(weibull)} % of exports. Use it to look, not to quote.`,
    `The interval-censored estimate in later weeks: by week 12 it is off by ${later} points in mild, moderate and severe feet. Feet that were straight and slipped back between two checkups are known to nobody.`,
    `Informative drop-out: where nearly straight feet stop coming, the interval-censored share of severe feet by week 8 is off by ${points(dropOut)} points, and the share still on 24 hours at week 6 by ${points(onFullTime)}. Nothing in the data shows it, and no method here corrects for it.`,
    `Twelve feet: the trend test finds the effect of severity in ${rejected(scenarios, 'tiny-clinic')} of exports, and the Weibull interval of mild feet by week 8 holds the truth in ${held(tiny)} %.`,
    `The crude Weibull ratio of total duration, severe to mild: read as the ratio of the median durations it is off by ${percent(Math.exp(ratio.bias ?? 0) - 1)}, and its interval holds that ratio in ${held(ratio)} % of exports.`,
    falseAlarms(scenarios),
    `Keeping to the hours: without lapse by week 6 is off by ${points(lapse)} points, for diaries exceed the truth and days are missing.`,
    `Skin events where a site leaves episodes of lost families open: weeks without events are added, and the rate is off by ${percent((skin.bias ?? 0) / skin.truth)} (its interval holds in ${held(skin)} %).`,
  ];
}

/** How often charts signal where nothing was planted. */
function falseAlarms(scenarios: readonly ScenarioRecovery[]): string {
  const signals = (
    scenarios.find(({ scenario }) => scenario === 'no-effect-of-severity')?.audit ?? []
  ).filter(({ kind, reading }) => kind === 'chart' && reading === 'signal');
  const any = signals.find(({ measure }) => measure === UNPLANTED_CHARTS)?.share ?? 0;
  const single = signals.filter(({ measure }) => measure !== UNPLANTED_CHARTS).map(({ share }) => share);
  return `The charts of the audit: with nothing planted, a chart signals over twelve quarters in ${formatDecimal(100 * Math.min(...single), 0)} to ${percent(Math.max(...single))} of audits, and one at least of the ${single.length} charts in ${percent(any)}: there are many points and rules, and the limits take both feet of an infant for two. A signal is a prompt to look, no finding.`;
}

function lookIn(scenarios: readonly ScenarioRecovery[]): Looked {
  return (name, method, what, topic, target = 'true') => {
    const scenario = scenarios.find(candidate => candidate.scenario === name);
    const found = scenario && findRecovery(scenario, method, what, target, topic);
    if (found === undefined) throw new RangeError(`the study has no ${what} by ${method} in ${name}`);
    return found;
  };
}

const each = (of: (band: StudyBand) => string): string => listInWords(STUDY_BANDS.map(of));

const points = ({ bias = 0 }: Recovery): string => formatDecimal(100 * bias, 1);

const held = ({ coverage }: Recovery): string =>
  coverage === undefined ? 'none' : formatDecimal(100 * coverage, 0);

const percent = (share: number): string => `${formatDecimal(100 * share, 0)} %`;

function rejected(scenarios: readonly ScenarioRecovery[], name: string): string {
  const tests = scenarios.find(({ scenario }) => scenario === name)?.tests;
  const share = tests?.find(({ key }) => key === 'trend')?.rejected;
  return share === undefined ? 'none' : `${formatDecimal(100 * share, 1)} %`;
}
