import { type AuditReading, plantedCharts } from './audit-readings.ts';
import type { ExportAnswers } from './estimates.ts';
import { type Studied, studiedScenario } from './scenarios.ts';

/** How often the audit of an export says one thing. */
export interface AuditRecovery extends Omit<AuditReading, 'said'> {
  /** The scenario has something there for an audit to find. */
  readonly planted: boolean;
  /** Exports whose audit has the reading; the others have no such chart, funnel or quarter. */
  readonly exports: number;
  readonly share: number;
  /** Monte-Carlo error of the share. */
  readonly shareError: number;
}

/** Sites that fail standards, or come to; a standard or site not named has nothing planted. */
const FAILING: Readonly<Partial<Record<Studied, Readonly<Record<string, readonly string[]>>>>> = {
  'ordinary-clinic': { 'kestrel-quay': ['second-checkup'] },
  'failing-site': {
    ombermoor: [
      'baseline-photograph',
      'baseline-findings',
      'teach-back',
      'first-checkup',
      'second-checkup',
      'skin-review',
      'closed-with-reason',
    ],
  },
};

/** Share of exports that say each thing, in the order of the first export that has it. */
export function judgeAudit(
  scenario: Studied,
  exports: readonly Pick<ExportAnswers, 'audit'>[],
): readonly AuditRecovery[] {
  const counted = new Map<string, { readonly of: AuditReading; exports: number; said: number }>();
  for (const { audit } of exports) {
    for (const reading of audit) {
      const name = [reading.kind, reading.measure, reading.site, reading.reading].join('|');
      const count = counted.get(name) ?? { of: reading, exports: 0, said: 0 };
      counted.set(name, count);
      count.exports += 1;
      if (reading.said) count.said += 1;
    }
  }
  const charts = plantedCharts(studiedScenario(scenario));
  return [...counted.values()].map(({ of: { kind, measure, site, reading }, exports: n, said }) => {
    const share = said / n;
    return {
      kind,
      measure,
      site,
      reading,
      planted:
        kind === 'chart'
          ? charts.has(measure)
          : kind === 'site' && (FAILING[scenario]?.[site]?.includes(measure) ?? false),
      exports: n,
      share,
      shareError: Math.sqrt((share * (1 - share)) / n),
    };
  });
}
