import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { SCENARIOS } from '../../src/synthetic/scenarios/index.ts';
import { runCommand } from './run-command.ts';

const root = mkdtempSync(join(tmpdir(), 'forefoot-simulate-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
const fast = join(root, 'fast.yaml');
writeFileSync(fast, 'truth: {infants: 10}\n');

describe('forefoot simulate', () => {
  it('writes an export that passes the check, and says what it wrote', async () => {
    const out = join(root, 'clinic');
    const ran = await runCommand('simulate', '--feet', '20', '--seed', '7', '--scenario', fast, '--out', out);
    expect({ code: ran.code, log: ran.log }).toEqual({ code: 0, log: '' });
    expect(ran.out).toMatch(
      /^Invented export .*clinic: scenario ordinary-clinic, seed 7, 20 feet of \d+ infants\nfile +rows\nepisodes\.csv +20\n/,
    );
    expect((await runCommand('check', out)).code).toBe(0);
  });

  it('takes the number of feet of the scenario, and lays a file over it', async () => {
    const out = join(root, 'tiny');
    const ran = await runCommand('simulate', 'tiny-clinic', '--scenario', fast, '--out', out);
    expect(ran.out).toContain('scenario tiny-clinic, seed 1, 12 feet');
    expect(readFileSync(join(out, 'truth.json'), 'utf8')).toContain('"infantsSimulated": 10');
  });

  it('says how many problems it planted', async () => {
    const out = join(root, 'flawed');
    const ran = await runCommand('simulate', 'sample-clinic-with-problems', '--seed', '60', '--out', out);
    expect(ran.out).toMatch(/\n\d\d problems planted, listed in planted-problems\.csv\n$/);
    expect((await runCommand('check', out)).code).toBe(1);
  });

  it('refuses to overwrite without --replace', async () => {
    const out = join(root, 'taken');
    const words = ['simulate', '--feet', '5', '--scenario', fast, '--out', out];
    expect((await runCommand(...words)).code).toBe(0);
    const again = await runCommand(...words);
    expect(again.code).toBe(2);
    expect(again.log).toContain(`${out} is not empty; take another folder, or --replace`);
    expect((await runCommand(...words, '--replace')).code).toBe(0);
    expect(readdirSync(root).filter(name => name.startsWith('.'))).toEqual([]);
  });

  it('lists the scenarios', async () => {
    const { out, code } = await runCommand('simulate', '--list');
    expect(code).toBe(0);
    for (const { name, description } of SCENARIOS) expect(out).toContain(`${name}\n    ${description}\n`);
  });

  it.each([
    [['simulate'], '--out is missing; allowed: a new or empty folder'],
    [['simulate', 'seaside', '--out', 'x'], 'there is no scenario "seaside"; there are: ordinary-clinic'],
    [['simulate', '--feet', '0', '--out', 'x'], 'Allowed: a whole number from 1'],
    [['simulate', '--seed', '1.5', '--out', 'x'], 'Allowed: a whole number from 0'],
    [['simulate', '--scenario', join(root, 'none.yaml'), '--out', 'x'], 'none.yaml'],
  ])('%j is refused in a line', async (words, message) => {
    const { code, log, out } = await runCommand(...words);
    expect(code).toBe(2);
    expect(log).toContain(message);
    expect(out).toBe('');
  });

  it('names the parameter of a scenario file that cannot be used', async () => {
    const file = join(root, 'wrong.yaml');
    writeFileSync(file, 'cohort: {bilateralShare: 2}\n');
    const { code, log } = await runCommand('simulate', '--scenario', file, '--out', join(root, 'never'));
    expect(code).toBe(2);
    expect(log).toContain('the scenario cannot be used: cohort.bilateralShare: ');
  });
});
