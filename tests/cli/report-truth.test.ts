import { cp, mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { writeExport } from '../../src/synthetic/files/write-export.ts';
import { namedScenario } from '../../src/synthetic/index.ts';

let room = '';
const at = (...parts: readonly string[]) => join(room, ...parts);

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), 'forefoot-truth-'));
  const scenario = namedScenario('ordinary-clinic');
  const small = { ...scenario, truth: { ...scenario.truth, infants: 100 } };
  writeExport(small, at('export'), { feet: 40, seed: 2, replace: false });
  writeExport({ ...small, name: 'another' }, at('other'), { feet: 40, seed: 2, replace: false });
  writeExport(small, at('larger'), { feet: 41, seed: 2, replace: false });
  await cp(at('export'), at('clinic'), { recursive: true });
  await rm(at('clinic', 'scenario.yaml'));
}, 60_000);

afterAll(async () => {
  await rm(room, { recursive: true, force: true });
});

async function report(folder: string, truth: string, kind = 'cohort') {
  let log = '';
  const code = await run(['report', kind, at(folder), '--truth', truth, '--out', at('report'), '--quiet'], {
    out: () => {},
    log: text => void (log += text),
    terminal: false,
  });
  return { code, log };
}

describe('forefoot report --truth', () => {
  it('prints the truth beside the estimates, and leaves the findings as they are', async () => {
    expect(await report('export', at('export', 'truth.json'))).toEqual({ code: 0, log: '' });
    const [name = ''] = (await readdir(at('report'))).filter(entry => /^teaching-\d/.test(entry));
    const html = await readFile(at('report', name, 'index.html'), 'utf8');
    expect(html.match(/Table \d+\. Invented data: truth known/g)?.length).toBe(5);
    expect(await readFile(at('report', name, 'findings.json'), 'utf8')).not.toMatch(
      /Invented data|trueIncidence/,
    );
  });

  it.each([
    ['duration', /Table \d+\. Invented data: truth known: estimates beside it/g, 1],
    ['audit', /Table \d+\. Invented data: truth known: (estimates beside it|changes|how sites differ)/g, 3],
  ])('prints it in the report on %s too', async (kind, tables, count) => {
    expect(await report('export', at('export', 'truth.json'), kind)).toEqual({ code: 0, log: '' });
    const [name = ''] = (await readdir(at('report'))).filter(entry => entry.startsWith(`teaching-${kind}-`));
    const html = await readFile(at('report', name, 'index.html'), 'utf8');
    expect(html.match(tables)?.length).toBe(count);
    expect(html).toContain('This export was simulated (scenario ordinary-clinic)');
    expect(await readFile(at('report', name, 'findings.json'), 'utf8')).not.toMatch(/Invented data|planted/);
  });

  it.each([
    ['clinic', 'export', /holds no scenario\.yaml/],
    ['other', 'export', /scenario ordinary-clinic/],
    ['larger', 'export', /40 feet.* has 41/],
    ['export', 'nowhere', /cannot be read \(ENOENT\)/],
  ])('refuses %s with the truth of %s', async (folder, of, reason) => {
    const { code, log } = await report(folder, at(of, 'truth.json'));
    expect(code).toBe(2);
    expect(log).toMatch(reason);
  });
});
