import type { Cohort, PairedAssessment } from '../cohort/index.ts';
import type { Plan } from '../plan/plan.ts';
import { cohensKappa, type KappaWeights } from '../statistics/agreement/index.ts';
import { formatCount, formatInterval, formatShare } from '../wording/format.ts';
import type { Analysis, FindingTable, Measure } from './finding.ts';
import { withLimits } from './tools/curves.ts';
import { countInfants, episodesOf } from './tools/people.ts';
import { traceItems } from './tools/trace.ts';

interface Compared {
  readonly key: string;
  readonly label: string;
  readonly categories: readonly (string | number)[];
  readonly weights: readonly KappaWeights[];
  readonly value: (findings: PairedAssessment['counting']) => string | number | undefined;
}

const COMPARED: readonly Compared[] = [
  {
    key: 'position',
    label: 'Bisector position',
    categories: [2, 2.5, 3, 3.5, 4, 4.5, 5],
    weights: ['linear', 'quadratic'],
    value: findings => findings.bisectorPosition,
  },
  {
    key: 'flexibility',
    label: 'Flexibility',
    categories: ['past straight', 'to straight', 'short of straight'],
    weights: ['none'],
    value: findings => findings.flexibility,
  },
  {
    key: 'crease',
    label: 'Medial crease',
    categories: ['absent', 'present'],
    weights: ['none'],
    value: ({ medialCrease }) =>
      medialCrease === undefined ? undefined : medialCrease ? 'present' : 'absent',
  },
];

const WEIGHTS: Readonly<Record<KappaWeights, string>> = {
  none: 'kappa',
  linear: 'kappa with linear weights',
  quadratic: 'kappa with quadratic weights',
};

interface Agreement {
  readonly compared: Compared;
  readonly used: readonly PairedAssessment[];
  /** Pairs in which both found the same. */
  readonly same: number;
  readonly kappas: readonly Measure[];
}

/** Do two assessors of one foot on one day find the same? Kappa of each finding, weighted for the position. */
export function assessorAgreement(cohort: Cohort, plan: Plan): Analysis {
  const pairs = cohort.pairedAssessments;
  const results = COMPARED.map(compared => agreement(compared, pairs, plan));
  const paired = new Set(pairs.map(pair => pair.episode));
  const without = cohort.feet.filter(foot => !paired.has(foot.episode));
  const reason = 'never assessed by two on one day';
  return {
    finding: {
      key: 'assessor-agreement',
      version: 1,
      question: 'Do two assessors of one foot on one day find the same?',
      statement: statement(pairs, results),
      population: {
        feet: episodesOf(pairs).length,
        infants: countInfants(pairs),
        leftOut:
          without.length === 0 ? [] : [{ reason, feet: without.length, infants: countInfants(without) }],
      },
      measures: [
        {
          key: 'pairs',
          label: 'Pairs of assessments',
          kind: 'count',
          unit: 'pairs',
          estimate: pairs.length,
          infants: countInfants(pairs),
        },
        ...results.flatMap(result => result.kappas),
      ],
      curves: [],
      tests: [],
      tables: [agreementTable(results)],
      methods: [
        {
          text: 'Each assessment that does not count for its day is compared with the one that does. Kappa is the agreement beyond chance; for the position, which has an order, a disagreement by fewer steps counts less. Limits are large-sample ones, pairs taken as independent, and end at 1.',
          cites: ['cohen-1960', 'cohen-1968', 'fleiss-1969'],
        },
      ],
      cautions: [
        'Feet are seen by two assessors where the clinic chose so, and the second may know what the first had found.',
        'Kappa is low where nearly all feet are alike, however well assessors agree: read it beside the share in full agreement.',
        ...(countInfants(pairs) < pairs.length
          ? ['Pairs of one infant are taken as independent, so that the intervals are somewhat too narrow.']
          : []),
      ],
    },
    trace: {
      analysed: { rule: 'assessed by more than one assessor on one day', episodes: episodesOf(pairs) },
      pairs: traceItems('assessed by more than one assessor on one day', pairs),
      [`leftOut.${reason}`]: { rule: reason, episodes: episodesOf(without) },
      ...Object.fromEntries(
        results.flatMap(({ compared, used, kappas }) =>
          kappas.map(kappa => [
            kappa.key,
            {
              rule: `${compared.label.toLowerCase()} recorded by both assessors`,
              episodes: episodesOf(used),
            },
          ]),
        ),
      ),
    },
  };
}

function agreement(compared: Compared, pairs: readonly PairedAssessment[], plan: Plan): Agreement {
  const used: PairedAssessment[] = [];
  const first: (string | number)[] = [];
  const second: (string | number)[] = [];
  for (const pair of pairs) {
    const one = compared.value(pair.counting);
    const other = compared.value(pair.other);
    if (one === undefined || other === undefined) continue;
    used.push(pair);
    first.push(one);
    second.push(other);
  }
  const kappas = compared.weights.map((weights): Measure => {
    const rests = {
      key: `kappa.${compared.key}${weights === 'none' ? '' : `.${weights}`}`,
      label: `${compared.label}: ${WEIGHTS[weights]}`,
      kind: 'correlation' as const,
      unit: '',
      n: used.length,
      infants: countInfants(used),
    };
    if (used.length === 0) return { ...rests, state: 'no pairs' };
    const { categories } = compared;
    const kappa = cohensKappa({ first, second }, { weights, categories, level: plan.level });
    if (kappa.estimate === undefined) return { ...rests, state: 'all found alike' };
    if (used.length < 2) return { ...rests, state: 'too few' };
    const upper = kappa.upper === undefined ? undefined : Math.min(1, kappa.upper);
    return { ...rests, ...withLimits(kappa.estimate, kappa.lower, upper) };
  });
  return { compared, used, same: first.filter((value, i) => value === second[i]).length, kappas };
}

function agreementTable(results: readonly Agreement[]): FindingTable {
  return {
    key: 'agreement',
    title: 'Agreement between two assessors of one foot on one day',
    columns: [
      { key: 'finding', label: 'Finding', kind: 'text' },
      { key: 'pairs', label: 'Pairs', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      { key: 'same', label: 'In full agreement', kind: 'mixed' },
      { key: 'weights', label: 'Measure', kind: 'text' },
      { key: 'kappa', label: 'Kappa', kind: 'ratio' },
    ],
    rows: results.flatMap(({ compared, used, same, kappas }) =>
      kappas.map((kappa, place) => ({
        finding: compared.label,
        pairs: used.length,
        infants: countInfants(used),
        same: { count: same, of: used.length },
        weights: WEIGHTS[compared.weights[place] ?? 'none'],
        kappa:
          kappa.estimate === undefined ? kappa.state : withLimits(kappa.estimate, kappa.lower, kappa.upper),
      })),
    ),
    notes: ['Kappa is 1 for full agreement and 0 for agreement by chance alone.'],
  };
}

function statement(pairs: readonly PairedAssessment[], results: readonly Agreement[]): string {
  if (pairs.length === 0) return 'No foot was assessed by two assessors on one day.';
  const [position] = results;
  const kappa = position?.kappas[0];
  const feet = formatCount(episodesOf(pairs).length);
  const opening = `${formatCount(pairs.length)} ${pairs.length === 1 ? 'pair' : 'pairs'} of assessments of ${feet} feet were compared.`;
  if (position === undefined || kappa === undefined || position.used.length === 0) return opening;
  const agreed = `Both gave the same bisector position in ${formatShare(position.same, position.used.length)}`;
  const weighted =
    kappa.estimate === undefined
      ? `${agreed}; kappa cannot be given (${kappa.state ?? ''}).`
      : `${agreed}, kappa with linear weights ${formatInterval(withLimits(kappa.estimate, kappa.lower, kappa.upper), 'correlation')}.`;
  return `${opening} ${weighted}`;
}
