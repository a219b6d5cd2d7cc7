import { createHash } from 'node:crypto';
import { appendFile, cp, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FindingsDocument } from '../../src/reports/index.ts';
import type { Ledger } from '../../src/reports/publish/index.ts';
import { runCommand } from './run-command.ts';

let room = '';
const clinic = (name: string): string =>
  fileURLToPath(new URL(`../reference/clinics/${name}`, import.meta.url));

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), 'forefoot-verify-'));
  await cp(clinic('canonical'), join(room, 'export'), { recursive: true });
  for (const kind of ['cohort', 'duration', 'audit']) {
    await runCommand('report', kind, join(room, 'export'), '--out', join(room, 'reports'));
  }
}, 180_000);

afterAll(async () => {
  await rm(room, { recursive: true, force: true });
});

const sha256 = async (path: string): Promise<string> =>
  createHash('sha256')
    .update(await readFile(path))
    .digest('hex');

/** The folder of the only report of a kind in a folder of reports. */
async function reportIn(reports: string, kind = 'cohort'): Promise<string> {
  const names = (await readdir(reports)).filter(name => name.startsWith(`${kind}-`));
  expect(names).toHaveLength(1);
  return join(reports, names[0] ?? '');
}

async function findingsOf(report: string): Promise<FindingsDocument> {
  return JSON.parse(await readFile(join(report, 'findings.json'), 'utf8')) as FindingsDocument;
}

describe('forefoot verify', () => {
  it('finds reports of all kinds as published, and as the export gives them', async () => {
    const verified = await runCommand('verify', join(room, 'reports'), '--export', join(room, 'export'));
    expect(verified.code).toBe(0);
    expect(verified.log).toMatch(
      /^3 reports worked out again: cohort-\d{4}-\d\d-\d\d, duration-\d{4}-\d\d-\d\d, audit-\d{4}-Q\d\n$/,
    );
    expect(verified.out).toMatch(/^3 reports, \d+ files: all as published\n$/);
  }, 180_000);

  it('finds pages of every kind edited and an export changed', async () => {
    const reports = join(room, 'edited');
    await cp(join(room, 'reports'), reports, { recursive: true });
    const kinds = ['cohort', 'duration', 'audit'];
    for (const kind of kinds) await appendFile(join(await reportIn(reports, kind), 'index.html'), ' ');
    const other = join(room, 'other');
    await cp(join(room, 'export'), other, { recursive: true });
    for (const name of ['assessments.csv', 'phases.csv']) {
      const lines = (await readFile(join(other, name), 'utf8')).split('\n');
      await writeFile(join(other, name), lines.filter((_, i) => i === 0 || i % 3 > 0).join('\n'));
    }
    const { code, log } = await runCommand('verify', reports, '--export', other);
    expect(code).toBe(1);
    for (const kind of kinds) {
      expect(log).toMatch(new RegExp(`${kind}-\\S+/index\\.html was changed after it was published`));
      expect(log).toMatch(
        new RegExp(`${kind}-\\S+: assessments\\.csv of the export is not the one it was made from`),
      );
      expect(log).toMatch(new RegExp(`${kind}-\\S+: \\S+ \\S+.* was published as .*; the export gives `));
    }
  }, 180_000);

  it('says that a plan is another one, and no number under it', async () => {
    const plan = join(room, 'plan.yaml');
    await writeFile(plan, 'relapse:\n  weeksAfterTherapy: 10\n');
    const words = ['verify', join(room, 'reports'), '--export', join(room, 'export'), '--plan', plan];
    const { code, log } = await runCommand(...words);
    expect(code).toBe(1);
    expect(log.match(/was made with another plan \([0-9a-f]{12}\); give that with --plan/g)).toHaveLength(3);
    expect(log).not.toContain('was published as');
  }, 180_000);

  it('says where no report has the data cut-off of the export', async () => {
    const later = join(room, 'later');
    await cp(join(room, 'export'), later, { recursive: true });
    const about = await readFile(join(later, 'export.yaml'), 'utf8');
    await writeFile(join(later, 'export.yaml'), about.replace(/cut_off: .*/, 'cut_off: 2031-01-01'));
    const { code, log } = await runCommand('verify', join(room, 'reports'), '--export', later);
    expect(code).toBe(1);
    expect(log).toContain('no report has the data cut-off of the export');
    expect(log).toMatch(/0 reports worked out again: none; of another data cut-off: cohort-/);
  });
});

describe('a report of an export read through a mapping', () => {
  it('carries the hash of the mapping and of every file, and is worked out again with it alone', async () => {
    const [folder, mapping] = [clinic('german'), join(clinic('german'), 'mapping.yaml')];
    const reports = join(room, 'mapped');
    const made = await runCommand('report', 'cohort', folder, '--mapping', mapping, '--out', reports);
    expect(made.code).toBe(0);
    const report = await reportIn(reports);
    const hash = await sha256(mapping);
    const { provenance } = await findingsOf(report);
    expect(provenance.mappingSha256).toBe(hash);
    const csv = (await readdir(folder)).filter(name => name.endsWith('.csv'));
    const files = await Promise.all(
      csv.map(async file => ({ file, sha256: await sha256(join(folder, file)) })),
    );
    expect([...(provenance.sources ?? [])].sort((a, b) => (a.file < b.file ? -1 : 1))).toEqual(files);
    const html = await readFile(join(report, 'index.html'), 'utf8');
    expect(html).toContain(`SHA-256 of the mapping</dt>`);
    for (const wanted of [hash, ...files.map(file => file.sha256)]) expect(html).toContain(wanted);
    const ledger = JSON.parse(await readFile(join(reports, 'ledger.json'), 'utf8')) as Ledger;
    expect(ledger.entries[0]?.mappingSha256).toBe(hash);
    expect(ledger.entries[0]?.inputs).toEqual(expect.arrayContaining(files));

    const verify = (...words: string[]) => runCommand('verify', reports, '--export', folder, ...words);
    expect(await verify('--mapping', mapping)).toMatchObject({ code: 0 });
    const other = join(room, 'mapping.yaml');
    await writeFile(other, `${await readFile(mapping, 'utf8')}# seen\n`);
    const differs = await verify('--mapping', other);
    expect([differs.code, differs.log]).toEqual([
      1,
      expect.stringContaining(`was made with another mapping (${hash.slice(0, 12)})`),
    ]);
  }, 180_000);
});

describe('a report of an export with corrected rows', () => {
  it('carries the hashes of the corrected rows and of their list, and is worked out again with them', async () => {
    const [folder, aside] = [join(room, 'flawed'), join(room, 'to-correct')];
    await cp(join(room, 'export'), folder, { recursive: true });
    const file = join(folder, 'episodes.csv');
    const lines = (await readFile(file, 'utf8')).split('\n');
    await writeFile(
      file,
      lines.map((line, i) => (i === 3 ? line.replace(/left|right/, 'both') : line)).join('\n'),
    );
    await runCommand('check', folder, '--quarantine', aside);
    const rows = join(aside, 'episodes.csv');
    await writeFile(rows, (await readFile(rows, 'utf8')).replace('both', 'left'));

    const reports = join(room, 'corrected');
    const made = await runCommand('report', 'cohort', folder, '--with', aside, '--out', reports);
    expect(made.code).toBe(0);
    const { provenance } = await findingsOf(await reportIn(reports));
    expect(provenance.mappingSha256).toBeUndefined();
    expect(provenance.sources).toEqual(
      expect.arrayContaining([
        { file: 'episodes.csv', sha256: await sha256(file) },
        { file: 'to-correct/episodes.csv', sha256: await sha256(rows) },
        { file: 'to-correct/set-aside.json', sha256: await sha256(join(aside, 'set-aside.json')) },
      ]),
    );
    const verify = (...words: string[]) => runCommand('verify', reports, '--export', folder, ...words);
    expect(await verify('--with', aside)).toMatchObject({ code: 0 });
    const without = await verify();
    expect(without.code).toBe(1);
    expect(without.log).toContain('to-correct/episodes.csv of the export is not the one it was made from');
  }, 180_000);
});
