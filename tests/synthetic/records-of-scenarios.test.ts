import { describe, expect, it } from 'vitest';
import { fromIsoDate, quarterOf } from '../../src/synthetic/calendar.ts';
import { namedScenario } from '../../src/synthetic/scenarios/index.ts';
import { allLines, objects } from './export-text.ts';
import { mean } from './cohort.ts';

type Row = Record<string, string>;
const yes = (rows: readonly Row[], field: string) =>
  mean(rows.filter(row => row[field] !== '').map(row => Number(row[field] === 'yes')));

function tables(name: string, feet: number) {
  const scenario = namedScenario(name);
  const lines = allLines(scenario, feet, 11);
  const first = quarterOf(fromIsoDate(scenario.cohort.start));
  const quarter = (row: Row, field: string) => quarterOf(fromIsoDate(row[field] ?? '')) - first;
  const episodes = objects(lines, 'episodes');
  const site = new Map(episodes.map(row => [row['episode_id'], row['site_id']]));
  const start = new Map(episodes.map(row => [row['episode_id'], fromIsoDate(row['start_date'] ?? '')]));
  return { lines, episodes, quarter, site, start };
}

const skinKinds = ['slight redness', 'strong redness', 'blister', 'pressure sore'];

describe('the three changes of the ordinary clinic', () => {
  const { lines, episodes, quarter, site, start } = tables('ordinary-clinic', 2400);

  it('teach-back improves', () => {
    const early = episodes.filter(row => quarter(row, 'start_date') < 3);
    const late = episodes.filter(row => quarter(row, 'start_date') > 8);
    expect(yes(late, 'teach_back') - yes(early, 'teach_back')).toBeGreaterThan(0.12);
  });

  it('the second checkup comes later, at one site alone', () => {
    const second = new Map<string, number>();
    const count = new Map<string, Set<string>>();
    for (const row of objects(lines, 'assessments')) {
      const code = row['episode_id'] ?? '';
      if (row['kind'] !== 'checkup') continue;
      const days = count.get(code) ?? new Set();
      days.add(row['date'] ?? '');
      count.set(code, days);
      if (days.size === 2 && !second.has(code)) {
        second.set(code, fromIsoDate(row['date'] ?? '') - (start.get(code) ?? 0));
      }
    }
    const day = (where: (code: string) => boolean) =>
      mean(
        episodes
          .filter(row => quarter(row, 'start_date') >= 9 && where(site.get(row['episode_id']) ?? ''))
          .flatMap(row => second.get(row['episode_id'] ?? '') ?? []),
      );
    expect(day(code => code === 'kestrel-quay') - day(code => code !== 'kestrel-quay')).toBeGreaterThan(6);
  });

  it('skin events rise in the last quarters', () => {
    const events = objects(lines, 'events').filter(row => skinKinds.includes(row['kind'] ?? ''));
    const perQuarter = (from: number, to: number) =>
      events.filter(row => quarter(row, 'date') >= from && quarter(row, 'date') <= to).length /
      (to - from + 1);
    expect(perQuarter(9, 10) / perQuarter(3, 8)).toBeGreaterThan(1.5);
  });
});

describe('other scenarios', () => {
  it('a cluster of skin events stands in one quarter alone', () => {
    const { lines, quarter } = tables('skin-cluster', 1200);
    const counts = Array.from({ length: 12 }, () => 0);
    for (const row of objects(lines, 'events')) {
      const q = quarter(row, 'date');
      if (skinKinds.includes(row['kind'] ?? '')) counts[q] = (counts[q] ?? 0) + 1;
    }
    const usual = mean(counts.filter((_, q) => q >= 2 && q !== 7));
    expect((counts[7] ?? 0) / usual).toBeGreaterThan(2.5);
    expect((counts[8] ?? 0) / usual).toBeLessThan(1.4);
  });

  it('the failing site fails its standards and the others keep them', () => {
    const { episodes } = tables('failing-site', 1200);
    const of = (code: string) => episodes.filter(row => row['site_id'] === code);
    const failing = of('ombermoor');
    expect(yes(failing, 'teach_back')).toBeLessThan(0.6);
    expect(yes(failing, 'baseline_photo')).toBeLessThan(0.7);
    expect(yes(of('tarnholm'), 'teach_back')).toBeGreaterThan(0.9);
    expect(yes(of('kestrel-quay'), 'baseline_photo')).toBeGreaterThan(0.9);
  });

  it('heavy bilateral: nearly every infant has two feet', () => {
    const { episodes } = tables('heavy-bilateral', 400);
    const infants = new Set(episodes.map(row => row['infant_id']));
    expect(episodes.length / infants.size).toBeGreaterThan(1.85);
  });

  it('diaries exceed the sensor by about half an hour a day, with wide scatter', () => {
    const { lines } = tables('ordinary-clinic', 400);
    const sensor = new Map<string, number>();
    const differences: number[] = [];
    for (const row of objects(lines, 'wear')) {
      const key = `${row['episode_id']} ${row['date']}`;
      const hours = Number(row['hours_worn']);
      if (row['source'] === 'sensor') sensor.set(key, hours);
      const known = sensor.get(key);
      if (row['source'] === 'diary' && known !== undefined) differences.push(hours - known);
    }
    expect(differences.length).toBeGreaterThan(2000);
    // 0.55 h by the scenario, a little less where 24 hours or a day without wear hold it down.
    expect(Math.abs(mean(differences) - 0.5)).toBeLessThan(0.1);
    const spread = Math.sqrt(mean(differences.map(d => (d - mean(differences)) ** 2)));
    expect(Math.abs(spread - 1.25)).toBeLessThan(0.2);
  });
});
