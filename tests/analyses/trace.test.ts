// Every count of every finding of the sample export has behind it as many episodes, step-downs, spells or events as the
// count says.
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Analysis, analyseAudit, analyseCohort, analyseDuration } from '../../src/analyses/index.ts';
import { buildCohort } from '../../src/cohort/index.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { readExport } from '../../src/records/files/read-folder.ts';

const plan = defaultPlan();

describe('the trace of every count in the findings of the sample export', () => {
  let analyses: readonly Analysis[] = [];
  let infantOf: ReadonlyMap<string, string> = new Map();

  beforeAll(async () => {
    const folder = fileURLToPath(new URL('../../synthetic-data', import.meta.url));
    const cohort = buildCohort(await readExport(folder, { plan }), plan);
    analyses = [
      ...analyseCohort(cohort, plan),
      ...analyseDuration(cohort, plan),
      ...analyseAudit(cohort, plan),
    ];
    infantOf = new Map(cohort.feet.map(foot => [foot.episode, foot.infant]));
  }, 120_000);

  const counts = () =>
    analyses.flatMap(({ finding, trace }) =>
      finding.measures
        .filter(measure => measure.kind === 'count' && measure.estimate !== undefined)
        .map(measure => ({ key: `${finding.key}/${measure.key}`, measure, entry: trace[measure.key] })),
    );

  it('is there', () => {
    expect(counts().length).toBeGreaterThan(100);
    expect(
      counts()
        .filter(({ entry }) => entry === undefined)
        .map(({ key }) => key),
    ).toEqual([]);
  });

  it('adds up to the count, and to its infants', () => {
    const wrong = counts().filter(({ measure, entry }) => {
      if (entry === undefined) return true;
      const { episodes, times } = entry;
      const infants = new Set(episodes.map(episode => infantOf.get(episode))).size;
      if (measure.infants !== undefined && measure.infants !== infants) return true;
      if (measure.unit === 'infants') return infants !== measure.estimate;
      const listed = times === undefined ? episodes.length : times.reduce((sum, number) => sum + number, 0);
      return listed !== measure.estimate || (times !== undefined && times.length !== episodes.length);
    });
    expect(wrong.map(({ key, measure }) => `${key}: ${measure.estimate ?? ''} ${measure.unit}`)).toEqual([]);
  });

  it('names each episode once, in order, and only accepted ones', () => {
    for (const { finding, trace } of analyses) {
      for (const [key, { episodes, rule }] of Object.entries(trace)) {
        const at = `${finding.key}/${key}`;
        expect(rule.length, at).toBeGreaterThan(0);
        expect([...new Set(episodes)].sort(), at).toEqual(episodes);
        expect(
          episodes.filter(episode => !infantOf.has(episode)),
          at,
        ).toEqual([]);
      }
    }
  });

  it('leaves no code of an episode or infant in a finding', () => {
    const text = JSON.stringify(analyses.map(({ finding }) => finding));
    const codes = [...infantOf].flat();
    expect(codes.filter(code => text.includes(`"${code}"`) || text.includes(` ${code}`))).toEqual([]);
  });
});
