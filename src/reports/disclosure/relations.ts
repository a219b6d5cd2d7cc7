import type { Finding } from '../../analyses/finding.ts';
import type { FindingsInput } from '../findings-document.ts';
import type { ModelDraft } from './count-model.ts';
import { RISK_ROWS } from './count-sites.ts';
import { relateRuns } from './runs.ts';
import { relateTable } from './table-relations.ts';

/**
 * What a reader can add up or take away in a report. A rule is kept where it holds in the true numbers, so that a rule
 * too many can hide a number too many and never show one.
 */
export function relateCounts(draft: ModelDraft, { findings, flow, provenance }: FindingsInput): void {
  relateFlow(draft, flow);
  for (const { file } of provenance.files) {
    const at = (field: string) => draft.cell(`rows/${file}/${field}`);
    draft.sum(at('read'), [at('accepted'), at('refused')]);
  }
  for (const finding of findings) {
    relatePopulation(draft, finding, findings);
    relateMeasures(draft, finding);
    for (const field of ['n', 'infants', 'events'] as const) relateGroups(draft, finding, field);
    relateGroups(draft, finding, 'estimate');
    relateCurves(draft, finding);
    relateAudit(draft, finding);
    for (const table of finding.tables) relateTable(draft, finding, table);
  }
}

function relateFlow(draft: ModelDraft, flow: FindingsInput['flow']): void {
  for (const field of ['feet', 'infants'] as const) {
    const at = (i: number) => draft.cell(`flow/${flow[i]?.key ?? ''}/${field}`);
    for (const [i, { depth, key }] of flow.entries()) {
      const below: number[] = [];
      for (let k = i + 1; k < flow.length && (flow[k]?.depth ?? 0) > depth; k++) {
        if (flow[k]?.depth === depth + 1) below.push(k);
      }
      if (below.length === 0) continue;
      // A line that is split, or one that stands beside what was left out of it.
      draft.sum(at(i), below.map(at));
      for (const whole of ['accepted', 'one-per-infant', 'read']) {
        if (whole !== key) draft.sum(draft.cell(`flow/${whole}/${field}`), [at(i), ...below.map(at)]);
      }
    }
    const depths = new Set(flow.map(({ depth }) => depth));
    for (const depth of depths) {
      relateRuns(
        draft,
        flow.flatMap((line, i) => (line.depth === depth ? [at(i)] : [])),
        () => depth === 0,
      );
    }
    const read = draft.cell(`flow/read/${field}`);
    draft.sum(read, [draft.cell(`flow/refused/${field}`), draft.cell(`flow/accepted/${field}`)]);
  }
  for (const { key } of flow) draft.pair(draft.cell(`flow/${key}/feet`), draft.cell(`flow/${key}/infants`));
}

function relatePopulation(draft: ModelDraft, finding: Finding, findings: readonly Finding[]): void {
  for (const field of ['feet', 'infants'] as const) {
    const parts = [
      draft.cell(`${finding.key}/population/${field}`),
      ...finding.population.leftOut.map(({ reason }) =>
        draft.cell(`${finding.key}/left out/${reason}/${field}`),
      ),
    ];
    const wholes = new Set([
      draft.cell(`flow/accepted/${field}`),
      draft.cell(`flow/one-per-infant/${field}`),
      ...findings.map(({ key }) => draft.cell(`${key}/population/${field}`)),
    ]);
    for (const whole of wholes) if (parts.length > 1) draft.sum(whole, parts);
  }
  const at = (...steps: readonly string[]) => draft.cell([finding.key, ...steps].join('/'));
  draft.pair(at('population', 'feet'), at('population', 'infants'));
  for (const { reason } of finding.population.leftOut) {
    draft.pair(at('left out', reason, 'feet'), at('left out', reason, 'infants'));
  }
}

/** Within a group: a count split by those that follow it; n less the events; feet and their infants. */
function relateMeasures(draft: ModelDraft, finding: Finding): void {
  const at = (key: string, field: string) => draft.cell(`${finding.key}/measure/${key}/${field}`);
  const byGroup = new Map<string, string[]>();
  for (const { key, group = 'all', kind, unit } of finding.measures) {
    if (kind === 'count') byGroup.set(`${group} ${unit}`, [...(byGroup.get(`${group} ${unit}`) ?? []), key]);
    draft.rest(at(key, 'n'), at(key, 'events'), `${finding.key}/measure/${key}/without the event`);
    if (unit === 'feet') draft.pair(at(key, 'estimate'), at(key, 'infants'));
    if (kind !== 'count') draft.pair(at(key, 'n'), at(key, 'infants'));
  }
  for (const keys of byGroup.values()) {
    relateRuns(
      draft,
      keys.map(key => at(key, 'estimate')),
    );
    relateRuns(
      draft,
      keys.map(key => at(key, 'infants')),
    );
  }
}

/** The same measure in all and in each group: keys that differ by the name of the group. */
function relateGroups(draft: ModelDraft, finding: Finding, field: string): void {
  const stems = new Map<string, string[]>();
  for (const { key, group = 'all' } of finding.measures) {
    const stem = key.endsWith(`.${group}`) ? key.slice(0, -group.length - 1) : key;
    stems.set(stem, [...(stems.get(stem) ?? []), key]);
  }
  for (const keys of stems.values()) {
    if (keys.length > 2)
      relateRuns(
        draft,
        keys.map(key => draft.cell(`${finding.key}/measure/${key}/${field}`)),
      );
  }
}

/** What of those that came due is left beside those counted. */
function relateAudit(
  draft: ModelDraft,
  { key, standards = [], quarterCharts = [], funnels = [] }: Finding,
): void {
  const places = [
    ...standards.map(standard => [`${key}/standard/${standard.key}`, 'n'] as const),
    ...quarterCharts.flatMap(chart =>
      chart.points.map(({ place }) => [`${key}/chart/${chart.key}/${place}`, 'size'] as const),
    ),
    ...funnels.flatMap(funnel =>
      funnel.units.map(({ kind, code }) => [`${key}/funnel/${funnel.key}/${kind} ${code}`, 'n'] as const),
    ),
  ];
  for (const [at, whole] of places) {
    draft.rest(draft.cell(`${at}/${whole}`), draft.cell(`${at}/count`), `${at}/rest`);
  }
}

/** At risk, events, other ends and censored add up to n; each row less an earlier tick is a count of its own. */
function relateCurves(draft: ModelDraft, finding: Finding): void {
  for (const curve of finding.curves) {
    const at = (part: string) => draft.cell(`${finding.key}/curve/${curve.key}/${part}`);
    draft.pair(at('n'), at('infants'));
    const ticks = curve.riskTable.time.length;
    for (let k = 0; k < ticks; k++)
      draft.sum(
        at('n'),
        RISK_ROWS.map(([row]) => at(`${row}.${k}`)),
      );
    for (const [row] of RISK_ROWS) {
      for (let late = 1; late < ticks; late++) {
        for (let early = 0; early < late; early++) {
          const [first, second] = row === 'atRisk' ? [late, early] : [early, late];
          const name = `${finding.key}/curve/${curve.key}/${row} between ${early} and ${late}`;
          draft.rest(at(`${row}.${second}`), at(`${row}.${first}`), name);
        }
      }
      if (row === 'events') {
        const total = draft.sites.find(
          site => site.scope === finding.key && site.tag === curve.group && site.path.endsWith('/events'),
        );
        if (total !== undefined) {
          draft.rest(
            draft.cell(total.path),
            at(`events.${ticks - 1}`),
            `${curve.key} events after the last tick`,
          );
        }
      }
    }
  }
  const families = new Map<string, string[]>();
  for (const { key } of finding.curves) {
    const stem = key.slice(0, Math.max(key.lastIndexOf('.'), 0));
    families.set(stem, [...(families.get(stem) ?? []), key]);
  }
  for (const keys of families.values()) {
    if (keys.length < 3) continue;
    const of = (part: string) => keys.map(key => draft.cell(`${finding.key}/curve/${key}/${part}`));
    relateRuns(draft, of('n'));
    const ticks = finding.curves.find(({ key }) => key === keys[0])?.riskTable.time.length ?? 0;
    for (const [row] of RISK_ROWS) for (let k = 0; k < ticks; k++) relateRuns(draft, of(`${row}.${k}`));
  }
}
