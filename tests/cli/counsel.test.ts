import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { runCommand } from './run-command.ts';

const SAMPLE = fileURLToPath(new URL('../../synthetic-data', import.meta.url));

describe('forefoot counsel', () => {
  it('says what became of feet like the one described, with the cautions', async () => {
    const { code, out } = await runCommand('counsel', SAMPLE, '--band', 'severe', '--age-weeks', '10');
    expect(code).toBe(0);
    expect(out).toContain('Of 26 feet of 22 infants like this one (severe, under 13 weeks at first fitting)');
    expect(out).toContain('by week 16');
    expect(out).toContain('it does not foretell the course of one foot');
    expect(out).toContain('It does not set treatment');
  });

  it('gives no answer on few feet, and exit code 1', async () => {
    const words = ['--flexibility', 'short of straight', '--crease', 'yes', '--age-weeks', '30'];
    const { code, out } = await runCommand('counsel', SAMPLE, '--band', 'severe', ...words);
    expect(code).toBe(1);
    expect(out).toMatch(/^No answer: the cohort holds 4 feet like this one/);
    expect(out).not.toContain('%');
  });

  it('refuses words that describe no foot', async () => {
    expect((await runCommand('counsel', SAMPLE)).code).toBe(2);
    expect((await runCommand('counsel', SAMPLE, '--band', 'straight')).code).toBe(2);
    expect((await runCommand('counsel', SAMPLE, '--band', 'mild', '--age-weeks', 'ten')).code).toBe(2);
    expect((await runCommand('counsel', SAMPLE, '--band', 'mild', '--crease', 'perhaps')).code).toBe(2);
  });
});
