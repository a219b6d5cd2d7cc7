import type { ExportRecords } from '../records/records.ts';
import type { Cohort, Counted, FlowStep, Foot, StepDown } from './cohort.ts';
import { BANDS } from './cohort.ts';

/** Feet, their infants and their episode codes. */
export function countFeet(feet: readonly Pick<Foot, 'episode' | 'infant'>[]): Counted {
  return {
    feet: feet.length,
    infants: new Set(feet.map(foot => foot.infant)).size,
    episodes: feet.map(foot => foot.episode),
  };
}

/**
 * Who came in, who stayed, and whom each question could use.
 *
 * The first lines count rows of the episodes file (`rowsOnly`): a refused row has no infant to count. A refused row with
 * several problems stands under the first of them.
 *
 * @param accepted every accepted foot
 * @param feet those that the plan keeps (all, or one per infant)
 */
export function participantFlow(
  records: Pick<ExportRecords, 'counts' | 'problems'>,
  accepted: readonly Foot[],
  feet: readonly Foot[],
  stepDowns: Cohort['stepDowns'],
): readonly FlowStep[] {
  return [
    ...fileSteps(records),
    step('accepted', 'Accepted', 0, accepted),
    ...oneFootSteps(accepted, feet),
    ...bandSteps(feet),
    ...questionSteps(feet, stepDowns),
  ];
}

function step(key: string, label: string, depth: number, feet: readonly Foot[]): FlowStep {
  return { key, label, depth, counted: countFeet(feet) };
}

function rowStep(key: string, label: string, depth: number, rows: number): FlowStep {
  return { key, label, depth, counted: { feet: rows, infants: 0, episodes: [] }, rowsOnly: true };
}

/** Kinds whose line is that of the header. */
const NOT_OF_A_ROW = new Set(['identifying-column', 'missing-column', 'duplicate-header', 'no-known-column']);

function fileSteps({ counts, problems }: Pick<ExportRecords, 'counts' | 'problems'>): readonly FlowStep[] {
  const { file, read, refused } = counts.episodes;
  const kindOfLine = new Map<number, string>();
  for (const problem of problems) {
    const own = problem.table === undefined ? problem.file === file : problem.table === 'episodes';
    const line = problem.row ?? problem.line;
    if (!own || problem.severity !== 'refused' || line === undefined || NOT_OF_A_ROW.has(problem.kind))
      continue;
    if (!kindOfLine.has(line)) kindOfLine.set(line, problem.kind);
  }
  const rowsByKind = new Map<string, number>();
  for (const kind of kindOfLine.values()) rowsByKind.set(kind, (rowsByKind.get(kind) ?? 0) + 1);
  return [
    rowStep('read', 'Episodes in the file', 0, read),
    rowStep('refused', 'Refused', 0, refused),
    ...[...rowsByKind]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([kind, rows]) => rowStep(`refused.${kind}`, kind.replaceAll('-', ' '), 1, rows)),
  ];
}

function oneFootSteps(accepted: readonly Foot[], feet: readonly Foot[]): readonly FlowStep[] {
  if (accepted.length === feet.length) return [];
  const kept = new Set(feet);
  return [
    step(
      'other-foot',
      'Left out: another foot of the same infant is kept',
      0,
      accepted.filter(foot => !kept.has(foot)),
    ),
    step('one-per-infant', 'One foot per infant', 0, feet),
  ];
}

function bandSteps(feet: readonly Foot[]): readonly FlowStep[] {
  const notKnown = feet.filter(foot => foot.band === 'not known');
  const byMissing = [...groupFeet(notKnown, foot => foot.bandMissing.join(' and '))].sort(([a], [b]) =>
    a < b ? -1 : 1,
  );
  return [
    step('straight', 'Straight at baseline', 0, straightFeet(feet)),
    step('not-known', 'Severity band not known', 0, notKnown),
    ...byMissing.map(([missing, group]) =>
      step(`not-known.${missing.replaceAll(' and ', '-')}`, `${missing} not recorded`, 1, group),
    ),
    step('banded', 'With a severity band', 0, bandedFeet(feet)),
    ...BANDS.map(band =>
      step(
        `banded.${band}`,
        band,
        1,
        feet.filter(foot => foot.band === band),
      ),
    ),
  ];
}

/** A question of the report: the feet it analyses, and those left out by reason. Every foot stands in one of them. */
interface Question {
  readonly key: string;
  readonly label: string;
  /** `undefined` for a foot that is analysed, else why it is left out. */
  readonly leftOut: (foot: Foot) => string | undefined;
  readonly reasons: readonly string[];
}

const STRAIGHT = 'straight at baseline';
const NOT_KNOWN = 'severity band not known';

function withoutBand(foot: Foot): string | undefined {
  if (foot.band === 'straight') return STRAIGHT;
  return foot.band === 'not known' ? NOT_KNOWN : undefined;
}

function questionSteps(feet: readonly Foot[], stepDowns: readonly StepDown[]): readonly FlowStep[] {
  const steppedDown = new Set(stepDowns.map(stepDown => stepDown.episode));
  const atRisk = new Set(stepDowns.filter(({ daysAtRisk }) => daysAtRisk > 0).map(({ episode }) => episode));
  const questions: readonly Question[] = [
    {
      key: 'correction',
      label: 'Time to correction',
      leftOut: withoutBand,
      reasons: [STRAIGHT, NOT_KNOWN],
    },
    {
      key: 'relapse',
      label: 'Relapse after a step-down',
      leftOut: foot => {
        if (!steppedDown.has(foot.episode)) return 'no step-down';
        return atRisk.has(foot.episode) ? undefined : 'not seen after any step-down';
      },
      reasons: ['no step-down', 'not seen after any step-down'],
    },
    {
      key: 'lapse',
      label: 'Time to lapse',
      leftOut: foot => (foot.lapse === undefined ? 'no wear data' : undefined),
      reasons: ['no wear data'],
    },
    {
      key: 'discontinuation',
      label: 'Time to discontinuation',
      leftOut: foot => (foot.discontinuation === undefined ? 'no wear data' : undefined),
      reasons: ['no wear data'],
    },
    {
      key: 'duration',
      label: 'Severity and total duration',
      leftOut: withoutBand,
      reasons: [STRAIGHT, NOT_KNOWN],
    },
    {
      key: 'skin',
      label: 'Skin safety',
      leftOut: foot => (foot.lastDay > 0 ? undefined : 'no time at risk'),
      reasons: ['no time at risk'],
    },
  ];
  return questions.flatMap(question => {
    const groups = groupFeet(feet, foot => question.leftOut(foot) ?? 'analysed');
    return [
      step(question.key, `${question.label}: analysed`, 0, groups.get('analysed') ?? []),
      ...question.reasons.map(reason =>
        step(
          `${question.key}.${reason.replaceAll(' ', '-')}`,
          `left out: ${reason}`,
          1,
          groups.get(reason) ?? [],
        ),
      ),
    ];
  });
}

function straightFeet(feet: readonly Foot[]): readonly Foot[] {
  return feet.filter(foot => foot.band === 'straight');
}

/** Feet with a severity band: neither straight at baseline nor with the band not known. */
export function bandedFeet(feet: readonly Foot[]): readonly Foot[] {
  return feet.filter(foot => withoutBand(foot) === undefined);
}

function groupFeet(feet: readonly Foot[], key: (foot: Foot) => string): ReadonlyMap<string, readonly Foot[]> {
  const groups = new Map<string, Foot[]>();
  for (const foot of feet) {
    const group = groups.get(key(foot));
    if (group === undefined) groups.set(key(foot), [foot]);
    else group.push(foot);
  }
  return groups;
}
