import type { Finding } from '../../analyses/finding.ts';
import { isHidden, WITHHELD } from '../../wording/hidden-count.ts';
import type { FindingsDocument, FindingsInput } from '../findings-document.ts';
import { attackCurves } from './attack-curves.ts';
import { attackTexts } from './attack-texts.ts';
import { type Seen, UNSEEN } from './bounds.ts';
import { type CountModel, countModel } from './count-model.ts';
import { countSites } from './count-sites.ts';
import { countLeaks } from './leaks.ts';
import { type DisclosurePolicy, disclosurePolicy } from './policy.ts';
import { untold } from './protect-audit.ts';
import { relateCounts } from './relations.ts';

/** A file as it will be published. */
export interface AttackedFile {
  readonly path: string;
  readonly text: string;
}

/** An earlier publication of the same report that a reader may lay beside the new one. */
export interface EarlierVersion {
  readonly name: string;
  readonly findings: FindingsDocument;
}

/** Thrown when small counts can be worked out of what was to be published; it names what leaks and never the number. */
export class DisclosureError extends Error {
  override readonly name = 'DisclosureError';
  readonly leaks: readonly string[];

  constructor(leaks: readonly string[]) {
    const shown = leaks.slice(0, 5).join('; ');
    const more = leaks.length > 5 ? `; and ${leaks.length - 5} more` : '';
    super(`nothing published: small numbers could be worked out (${shown}${more})`);
    this.leaks = leaks;
  }
}

/**
 * Tries to work out small counts from everything that is to be published, knowing the structure of the report and, to
 * tell whether a guess is right, the truth: by adding up and taking away, from complements, from shares and rates back
 * to counts, from steps of curves and the tables under them, from numbers that one file gives and the findings do not,
 * and from earlier versions.
 *
 * @param truth the findings before anything was hidden
 * @returns what leaks, by place; nothing where the attack fails or the plan hides nothing
 */
export function attack(
  files: readonly AttackedFile[],
  truth: FindingsInput,
  earlier: readonly EarlierVersion[] = [],
): readonly string[] {
  const policy = disclosurePolicy(truth.plan);
  if (policy === undefined) return [];
  const text = files.find(({ path }) => path === 'findings.json')?.text;
  if (text === undefined) return ['findings.json is missing, so nothing can be checked'];
  const published = JSON.parse(text) as FindingsDocument;
  const model = countModel(truth, draft => relateCounts(draft, truth));
  const seen = [...seenIn(model, published, policy.below)];
  for (const finding of published.findings) readBack(finding, model, seen);
  const counted = countLeaks(model, seen, policy.below).map(({ cell }) => model.names[cell] ?? '');
  return [
    ...counted,
    ...attackCurves(truth.findings, published.findings, policy, truth.plan),
    ...attackTexts(files, text, policy),
    ...attackCentres(truth.findings, published.findings),
    ...attackFunnels(truth.findings, published.findings, policy),
    ...leaksBeside(model, published, earlier, policy.below),
  ];
}

/** A centre to its last digit, beside points that are hidden: two audits in turn give the counts of the quarters between. */
function attackCentres(truth: readonly Finding[], published: readonly Finding[]): readonly string[] {
  const charts = (findings: readonly Finding[]) =>
    findings.flatMap(({ key, quarterCharts = [] }) =>
      quarterCharts.map(chart => [`${key}/chart/${chart.key}`, chart] as const),
    );
  const shown = new Map(charts(published));
  return charts(truth).flatMap(([name, chart]) => {
    const drawn = shown.get(name);
    const told = drawn !== undefined && drawn.points.length < chart.points.length;
    const rounded = drawn !== undefined && Number(drawn.centre.toFixed(2)) === drawn.centre;
    return told && !rounded && drawn.centre === chart.centre ? [`${name}: the mean of hidden quarters`] : [];
  });
}

/** A site less those of its clinicians that are shown: what is left is the count of the others. */
function attackFunnels(
  truth: readonly Finding[],
  published: readonly Finding[],
  policy: DisclosurePolicy,
): readonly string[] {
  const sites = new Map(
    truth.flatMap(({ funnels = [] }) =>
      funnels.flatMap(({ units }) =>
        units.flatMap(({ code, site }) => (site === undefined ? [] : [[code, site] as const])),
      ),
    ),
  );
  return published.flatMap(({ key, funnels = [] }) =>
    funnels.flatMap(funnel => {
      const units = funnel.units.map(unit => {
        const site = unit.kind === 'clinician' ? sites.get(unit.code) : undefined;
        return site === undefined ? unit : { ...unit, site };
      });
      const safe = untold(units, policy).length === units.length;
      return safe ? [] : [`${key}/funnel/${funnel.key}: a site less its clinicians`];
    }),
  );
}

type Counts = Pick<FindingsDocument, 'findings' | 'flow' | 'provenance'>;

/** Whether hidden counts of some findings can be worked out beside earlier versions of the report. */
export function leaksBeside(
  model: CountModel,
  published: Counts,
  earlier: readonly EarlierVersion[],
  below: number,
): readonly string[] {
  return earlier.flatMap(version => attackEarlier(model, published, version, below));
}

/** Cells whose numbers earlier versions have told and that are still the same. */
export function toldBefore(model: CountModel, earlier: readonly Counts[]): ReadonlySet<number> {
  const told = new Set<number>();
  for (const version of earlier) {
    const before = new Map(countSites(version).map(({ path, value }) => [path, value]));
    for (const [path, cell] of model.cellOf) {
      if (before.get(path) === model.values[cell]) told.add(cell);
    }
  }
  return told;
}

/** What the published findings show of each cell. */
function seenIn(model: CountModel, published: Counts, below: number): readonly Seen[] {
  const seen: Seen[] = model.values.map(() => UNSEEN);
  const shown = new Map(countSites(published).map(({ path, value }) => [path, value]));
  for (const [path, cell] of model.cellOf) {
    // Of a share with a hidden denominator the count stands alone.
    const value = shown.get(path) ?? shown.get(path.replace(/\.count$/, ''));
    if (typeof value === 'number') seen[cell] = { lower: value, upper: value };
    else if (isHidden(value) && value !== WITHHELD && seen[cell] === UNSEEN) {
      seen[cell] = { lower: 1, upper: below - 1 };
    }
  }
  return seen;
}

/** Counts of events that shares of n, and rates over a published time at risk, give back. */
function readBack(finding: Finding, model: CountModel, seen: Seen[]): void {
  const whole = (x: number): number | undefined => {
    const near = Math.round(x);
    return Math.abs(x - near) < 1e-6 ? near : undefined;
  };
  for (const { key, kind, estimate, n, group } of finding.measures) {
    const events = model.cellOf.get(`${finding.key}/measure/${key}/events`);
    if (events === undefined || estimate === undefined || seen[events]?.lower === seen[events]?.upper)
      continue;
    const times = finding.measures.filter(
      other =>
        other.group === group &&
        other.estimate !== undefined &&
        other.unit.endsWith('foot-weeks') &&
        other.kind !== 'rate',
    );
    const guesses = [
      ...(kind === 'proportion' && typeof n === 'number' ? [whole(estimate * n)] : []),
      ...(kind === 'rate' ? times.map(time => whole((estimate * (time.estimate ?? 0)) / 100)) : []),
    ];
    for (const guess of guesses) {
      if (guess !== undefined && guess === model.values[events])
        seen[events] = { lower: guess, upper: guess };
    }
  }
}

/** Counts that the new version hides and an earlier one told, where they are still the same. */
function attackEarlier(
  model: CountModel,
  published: Counts,
  { name, findings }: EarlierVersion,
  below: number,
): readonly string[] {
  const seen = [...seenIn(model, published, below)];
  const before = new Map(countSites(findings).map(({ path, value }) => [path, value]));
  for (const [path, cell] of model.cellOf) {
    const value = before.get(path);
    if (typeof value === 'number' && value === model.values[cell])
      seen[cell] = { lower: value, upper: value };
  }
  return countLeaks(model, seen, below).map(({ cell }) => `${model.names[cell] ?? ''}, beside ${name}`);
}
