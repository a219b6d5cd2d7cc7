import { forestFigure } from '../../src/figures/index.ts';
import type { Block, ReportDocument, Section } from '../../src/reports/index.ts';
import { formatCount, formatDecimal } from '../../src/wording/format.ts';
import { signalsOfCharts, sitesOfFunnels, verdictsOfAudit } from './audit-tables.ts';
import { STUDY_BANDS } from './large-cohort.ts';
import { failureTexts, inBriefTexts } from './in-brief.ts';
import { findRecovery, medianTable, METHODS, recoveryTable, shareTable } from './report-tables.ts';
import { CORRECTION_TESTS, DURATION_TESTS, testTable } from './test-tables.ts';
import type { ScenarioRecovery, StudyResult } from './study.ts';
import { aimedAt, verdictCountTable, verdictTable } from './verdict-tables.ts';

const NORMAL_95 = 1.96;
/** Scenarios whose sites are told one by one: with nothing planted, with one that comes to fail, with one that fails. */
const WITH_FUNNELS: ReadonlySet<string> = new Set([
  'no-effect-of-severity',
  'ordinary-clinic',
  'failing-site',
]);

/** The recovery study as a document: a pure function of its result. */
export function recoveryReport(study: StudyResult): ReportDocument {
  const { scenarios } = study;
  const [ordinary] = scenarios;
  return {
    language: 'en',
    title: 'Do the methods find what is true?',
    subtitle: `${formatCount(study.exports)} invented exports of each of ${scenarios.length} scenarios, held against their known truth`,
    caution: {
      title: 'Read this first',
      items: [
        'All data are invented. Nothing here is evidence about the therapy; it is about the methods.',
        'A method that does well here may do worse where feet, families or records behave in ways the scenarios do not have.',
      ],
    },
    sections: [
      {
        key: 'in-brief',
        title: 'In brief',
        blocks: ordinary === undefined ? [] : inBrief(ordinary, scenarios),
        sections: [],
      },
      {
        key: 'failures',
        title: 'Where our own methods fail',
        blocks: [
          { kind: 'list', ordered: false, items: failureTexts(scenarios) },
          verdictTable(scenarios),
          verdictCountTable(scenarios),
        ],
        sections: [],
      },
      {
        key: 'how',
        title: 'How it was done',
        blocks: [{ kind: 'list', ordered: false, items: how(study) }],
        sections: [],
      },
      {
        key: 'correction',
        title: 'Time to correction',
        blocks: [
          medianTable(scenarios),
          shareTable(scenarios, 6),
          shareTable(scenarios, 8),
          shareTable(scenarios, 12),
        ],
        sections: [],
      },
      {
        key: 'tests',
        title: 'Tests of severity',
        blocks: [testTable(scenarios, CORRECTION_TESTS), testTable(scenarios, DURATION_TESTS)],
        sections: [],
      },
      {
        key: 'audit',
        title: 'The audit',
        blocks: [
          verdictsOfAudit(scenarios),
          signalsOfCharts(scenarios),
          sitesOfFunnels(scenarios.filter(({ scenario }) => WITH_FUNNELS.has(scenario))),
        ],
        sections: [],
      },
      {
        key: 'scenarios',
        title: 'Scenario by scenario',
        blocks: [],
        sections: scenarios.map(scenarioSection),
      },
    ],
    colophon: `Seed ${study.seed}. The same seed and number of exports give the same report.`,
  };
}

function how(study: StudyResult): readonly string[] {
  return [
    'Each export was written as CSV files, read back and checked, made into a cohort and analysed by the default plan, as an export of a clinic would be.',
    `The truth of a scenario is that of a cohort of ${formatCount(study.infantsOfTruth)} infants of its own, simulated without loss to follow-up and without a cut-off.`,
    '“What checkups see” is what that cohort would show at its checkups: the number a method aims at by its own definition. “What happened” counts from the day on which a foot was truly straight.',
    'Shares with other ends censored are held against the product-limit curve of the large cohort with the same ends censored; cumulative incidences against its shares.',
    'Ratios of hazards are held against the same model in the large cohort, by the day seen and by the true day. Ratios of total duration are held against the same model there; what happened, for a time ratio, is the ratio of the median durations. Adjusted ratios have a truth only where severity has no effect.',
    'The ninth scenario, the national registry of 100 000 feet, is there for load and has no part in this study.',
    'The audit is read as its report would be: verdicts of the last full quarter, signals of the charts, sites outside the limits of the funnels. Shares of teach-back and photograph have a truth that follows from the scenario.',
    'A number is called slightly biased if its mean error passes three Monte-Carlo errors and a quarter of the spread of the estimates, biased from half the spread; its intervals too narrow or too wide if their coverage lies outside 93 to 97 % by more than two Monte-Carlo errors.',
  ];
}

function inBrief(ordinary: ScenarioRecovery, scenarios: readonly ScenarioRecovery[]): readonly Block[] {
  return [
    ...inBriefTexts(scenarios).map(
      (text, place): Block => ({
        kind: place === 0 ? 'statement' : 'paragraph',
        text,
      }),
    ),
    {
      kind: 'figure',
      figure: medianFigure(ordinary),
      caption: 'Mean error, with 95 % Monte-Carlo interval.',
    },
  ];
}

/** Short, so that the figure has room on a narrow page. */
const IN_FIGURE = {
  [METHODS.kaplanMeier]: 'visit-dated',
  [METHODS.middle]: 'interval-censored',
  [METHODS.weibull]: 'Weibull',
};

function medianFigure(scenario: ScenarioRecovery) {
  const rows = STUDY_BANDS.flatMap(band =>
    Object.entries(IN_FIGURE).flatMap(([method, label]) => {
      const found = findRecovery(scenario, method, band, 'true', 'median');
      if (found?.bias === undefined) return [];
      const margin = NORMAL_95 * (found.biasError ?? 0);
      return [
        {
          label: `${band}, ${label}`,
          estimate: found.bias,
          lower: found.bias - margin,
          upper: found.bias + margin,
        },
      ];
    }),
  );
  const latest = Math.max(
    ...STUDY_BANDS.map(
      band => findRecovery(scenario, METHODS.kaplanMeier, band, 'true', 'median')?.bias ?? -Infinity,
    ),
  );
  return forestFigure(rows, {
    key: 'median-error',
    title: `Dated at checkups, the median is late by up to ${formatDecimal(latest, 1)} weeks`,
    subtitle:
      'Mean error of the median time to correction in weeks, ordinary clinic; 0 is the truth. Interval-censored: middle of the range',
    kind: 'difference',
    reference: 0,
    scale: 'linear',
  });
}

function scenarioSection(scenario: ScenarioRecovery): Section {
  const { description, feet, failed, recoveries } = scenario;
  const threw = Object.entries(failed).map(([name, count]) => `${name} in ${count}`);
  return {
    key: `scenario-${scenario.scenario}`,
    title: scenario.scenario,
    blocks: [
      { kind: 'paragraph', text: `${description} ${formatCount(feet)} feet an export.` },
      ...(threw.length === 0
        ? []
        : [{ kind: 'note' as const, text: `Analyses that gave up: ${threw.join('; ')}.` }]),
      recoveryTable(
        `numbers-${scenario.scenario}`,
        'Numbers of the report against what their method aims at',
        recoveries.filter(aimedAt),
      ),
    ],
    sections: [],
  };
}
