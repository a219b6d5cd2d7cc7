import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { closeMatches, editDistance } from '../../src/cli/close-matches.ts';
import { runCommand } from './run-command.ts';

const SAMPLE = fileURLToPath(new URL('../../synthetic-data', import.meta.url));

interface Listed {
  readonly counts: readonly { readonly key: string; readonly count: number }[];
}

describe('forefoot why', () => {
  it('lists the episodes behind a count with the rule, and says that they must not be published', async () => {
    const { code, out, log } = await runCommand('why', SAMPLE, 'severity-and-duration/referred.severe');
    expect({ code, log }).toEqual({ code: 0, log: '' });
    const lines = out.trimEnd().split('\n');
    expect(lines.slice(0, 5)).toEqual([
      'severity-and-duration/referred.severe: Referred, severe',
      expect.stringMatching(/^Count: 8 feet of \d infants$/),
      'Rule: severity band severe; therapy ended as: referred',
      'Each code stands for the therapy of one child. This list is for checking at the desk; it must not be published.',
      '',
    ]);
    expect(lines.slice(5)).toHaveLength(8);
    expect(lines.slice(5).every(line => /^E\d{4}$/.test(line))).toBe(true);
  }, 60_000);

  it('gives the same as JSON, with the caution in it', async () => {
    const { out } = await runCommand('why', SAMPLE, 'flow/banded.severe', '--json');
    const document = JSON.parse(out) as { readonly episodes: readonly unknown[]; readonly caution: string };
    expect(document).toMatchObject({ version: 1, key: 'flow/banded.severe', unit: 'feet', count: 62 });
    expect(document.episodes).toHaveLength(62);
    expect(document.caution).toContain('must not be published');
  }, 60_000);

  it('prints every key with --list', async () => {
    const { out } = await runCommand('why', SAMPLE, '--list', '--json');
    const { counts } = JSON.parse(out) as Listed;
    expect(counts).toContainEqual(
      expect.objectContaining({ key: 'time-to-correction/feet.severe', count: 62 }),
    );
    expect(new Set(counts.map(({ key }) => key)).size).toBe(counts.length);
  }, 60_000);

  it('suggests the nearest keys for one that is not known', async () => {
    const { code, out, log } = await runCommand('why', SAMPLE, 'severity-and-duration/refered.severe');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    const lines = log.trimEnd().split('\n');
    expect(lines[0]).toBe('forefoot: why: no count has the key severity-and-duration/refered.severe');
    expect(lines[2]).toBe('forefoot:   severity-and-duration/referred.severe');
  }, 60_000);

  it('tells a number that is no count from a key that is not known', async () => {
    const { code, log } = await runCommand('why', SAMPLE, 'severity-and-duration/median.severe');
    expect(code).toBe(2);
    expect(log).toContain('is no count but a time');
  }, 60_000);

  it('names the counts behind a number that is none, by key or by how they are formed', async () => {
    const { log } = await runCommand('why', SAMPLE, 'time-to-correction/median.severe');
    expect(log.trimEnd().split('\n').slice(1)).toEqual([
      'forefoot: the counts behind it:',
      'forefoot:   rests on 62: time-to-correction/feet.severe',
      'forefoot:   events 46: time-to-correction/corrected.severe',
    ]);
    const derived = await runCommand('why', SAMPLE, 'sensitivity/corrected.week8.severe');
    expect(derived.log).toContain('rests on 62: as for the same number in the finding that it comes from');
  }, 60_000);

  it('lists the feet of each alternative of the sensitivity table', async () => {
    const { code, out } = await runCommand('why', SAMPLE, 'sensitivity/feet.feet');
    expect(code).toBe(0);
    const lines = out.trimEnd().split('\n');
    expect(lines.slice(0, 3)).toEqual([
      'sensitivity/feet.feet: accepted episode, one foot per infant',
      'Count: 223 feet of 223 infants',
      'Rule: accepted episode, one foot per infant',
    ]);
    expect(lines.slice(5)).toHaveLength(223);
  }, 60_000);

  it('lists the feet that a finding analyses, and those that it leaves out', async () => {
    const analysed = await runCommand('why', SAMPLE, 'severity-and-duration/analysed', '--json');
    expect(JSON.parse(analysed.out)).toMatchObject({ count: 284, infants: 215 });
    const leftOut = await runCommand('why', SAMPLE, 'adherence/leftOut.no wear data', '--json');
    expect(JSON.parse(leftOut.out)).toMatchObject({ count: 121, infants: 94, rule: 'no wear data' });
  }, 60_000);

  it('lists what fell due in the quarter asked for, and at one site', async () => {
    const quarter = await runCommand(
      'why',
      SAMPLE,
      'audit/met.baseline-photograph',
      '--quarter',
      '2024-Q3',
      '--json',
    );
    expect(JSON.parse(quarter.out)).toMatchObject({ count: 29, unit: 'items' });
    const site = await runCommand(
      'why',
      SAMPLE,
      'audit-comparison/counted.second-checkup.site kestrel-quay',
      '--json',
    );
    expect(JSON.parse(site.out)).toMatchObject({ count: 26 });
    const none = await runCommand('why', SAMPLE, 'audit/due.teach-back', '--quarter', 'spring');
    expect(none.code).toBe(2);
    expect(none.log).toContain('--quarter: quarter');
  }, 60_000);

  it('asks for a key', async () => {
    const { code, log } = await runCommand('why', SAMPLE);
    expect(code).toBe(2);
    expect(log).toBe('forefoot: why: KEY is missing; name a count, or print all keys with --list\n');
  });
});

describe('closeMatches', () => {
  it('puts words that hold what was typed before words spelled alike, nearest first', () => {
    const words = ['a/feet.mild', 'a/feet.severe', 'b/feet.severe', 'a/corrected.severe'];
    expect(closeMatches('feet.severe', words, 2)).toEqual(['a/feet.severe', 'b/feet.severe']);
    expect(closeMatches('a/feet.mlid', words, 1)).toEqual(['a/feet.mild']);
    expect(closeMatches('zzzzzzzzzzzzzzzz', words)).toEqual([]);
  });

  it('counts letters put in, taken out and changed', () => {
    expect(editDistance('kitten', 'sitting')).toBe(3);
    expect(editDistance('', 'abc')).toBe(3);
    expect(editDistance('abc', 'abc')).toBe(0);
  });
});
