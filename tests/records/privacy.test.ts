import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { readXlsx } from 'hucre/xlsx';
import { describe, expect, it } from 'vitest';
import { DICTIONARY } from '../../src/records/dictionary.ts';
import { harmlessCode, harmlessValue } from '../../src/records/privacy/harmless.ts';
import { identifyingHeader } from '../../src/records/privacy/identifying-header.ts';
import { identifyingValue } from '../../src/records/privacy/identifying-value.ts';
import { TABLE_NAMES } from '../../src/records/records.ts';
import { runCommand } from '../cli/run-command.ts';
import { folderWith } from './files/folder.ts';

/** What must never be seen: whole, and in the parts that would give it away. */
const PLANTED: Readonly<Record<string, readonly string[]>> = {
  'Annabel Wrightson': ['Annabel', 'Wrightson'],
  Wrightson: ['Wrightson'],
  'annabel.w@example.org': ['annabel', 'example.org'],
  '+44 7700 900123': ['7700 900123', '900123'],
  '07700900123': ['7700900123'],
  '943 476 5919': ['476 5919'],
  '9434765919': ['9434765919'],
  'PAT-443322119': ['443322119'],
  '12 Quarry Lane, Tarnholm TH4 9ZZ': ['Quarry', 'TH4'],
  'mother says Annabel cried all night': ['cried', 'Annabel'],
};

const ROWS: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  episodes: {
    episode_id: 'E1',
    infant_id: 'I1',
    site_id: 'N1',
    clinician_id: 'C1',
    foot: 'left',
    sex: 'female',
    age_at_start_days: '60',
    start_date: '2025-02-10',
    end_date: '2025-06-01',
    end_reason: 'finished',
  },
  assessments: { episode_id: 'E1', date: '2025-02-24', kind: 'checkup', bisector_position: '3' },
  phases: { episode_id: 'E1', start_date: '2025-02-10', prescribed_hours: '24' },
  wear: { episode_id: 'E1', date: '2025-02-12', source: 'diary', hours_worn: '20' },
  events: { episode_id: 'E1', date: '2025-02-13', kind: 'blister' },
};

/** Every file has a clean row, a row for each field and planted value, and columns that the dictionary does not know. */
function plantedExport(): Record<string, string> {
  const files: Record<string, string> = {};
  for (const table of TABLE_NAMES) {
    const { file, fields } = DICTIONARY[table];
    const names = fields.map(field => field.name);
    const row = (number: number, changes: Readonly<Record<string, string>>, extra: string): string => {
      const own = table === 'episodes' ? { episode_id: `E${number}`, infant_id: `I${number}` } : {};
      const values: Record<string, string> = { ...ROWS[table], ...(number === 1 ? {} : own), ...changes };
      return [...names.map(name => values[name] ?? ''), extra, extra].map(text => `"${text}"`).join(',');
    };
    const lines = [[...names, 'Mother', 'x7'].join(','), row(1, {}, 'Annabel Wrightson')];
    let number = 2;
    for (const name of names) {
      for (const value of Object.keys(PLANTED)) {
        // A word given as the code of a site or clinician is one, whatever else it may be: reports name them by it.
        if ((name === 'site_id' || name === 'clinician_id') && value === 'Wrightson') continue;
        lines.push(row(number++, { [name]: value }, value));
      }
    }
    files[file] = `${lines.join('\n')}\n`;
  }
  files['export.yaml'] =
    'service: annabel.w@example.org\nexported_at: Annabel Wrightson\nAnnabel Wrightson: 1\n';
  return files;
}

const BIRTH = '2024-12-12';
const FRAGMENTS = [...new Set(Object.values(PLANTED).flat()), 'Annabel Wrightson'];

/** In packed bytes a fragment of a few letters stands by chance. */
const SHORTEST_IN_BYTES = 6;

function expectNothingPlanted(text: string, where: string): void {
  const least = /\.(png|pdf)$/.test(where) ? SHORTEST_IN_BYTES : 0;
  for (const fragment of FRAGMENTS.filter(({ length }) => length >= least))
    expect(text.includes(fragment), `${fragment} in ${where}`).toBe(false);
}

/** Every file in a folder as text, workbooks unpacked. */
async function everythingIn(folder: string): Promise<readonly (readonly [string, string])[]> {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  const files = names.filter(name => statSync(join(folder, name)).isFile());
  return Promise.all(
    files.map(async name => {
      const bytes = readFileSync(join(folder, name));
      const text = name.endsWith('.xlsx') ? JSON.stringify(await readXlsx(bytes)) : bytes.toString('latin1');
      return [name, text] as const;
    }),
  );
}

describe('values planted in every field of every file', () => {
  const folder = folderWith(plantedExport());

  it.each([['--show', '100000'], ['--json']])('are not in what check prints (%s)', async (...options) => {
    const { code, out, log } = await runCommand('check', folder, ...options);
    expect(code).toBe(1);
    expect(out.length).toBeGreaterThan(10_000);
    expectNothingPlanted(out + log, 'check');
  });

  it('are not in the findings, the report, its tables and figures, or what the commands print', async () => {
    const out = join(folderWith({}), 'report');
    const findings = join(folderWith({}), 'findings.json');
    const reported = await runCommand('report', 'cohort', folder, '--out', out);
    const analysed = await runCommand('analyse', folder, '--out', findings);
    const audit = join(folderWith({}), 'audit');
    const audited = await runCommand('report', 'audit', folder, '--out', audit);
    expect([reported.code, analysed.code, audited.code]).toEqual([0, 0, 0]);
    const printed = [reported, analysed, audited].map(ran => ran.out + ran.log).join('\n');
    expectNothingPlanted(printed, 'output');
    const written = [...(await everythingIn(out)), ...(await everythingIn(audit))];
    expect(written.length).toBeGreaterThan(5);
    for (const [name, text] of written) expectNothingPlanted(text, name);
    expectNothingPlanted(readFileSync(findings, 'utf8'), 'findings.json');
  });

  it('are in the quarantine by design, in a folder for its owner alone, but not in its list of problems', async () => {
    const aside = join(folderWith({}), 'aside');
    const { log } = await runCommand('check', folder, '--quarantine', aside);
    expectNothingPlanted(log, 'log');
    expect(readFileSync(join(aside, 'episodes.csv'), 'utf8')).toContain('Annabel Wrightson');
    expect(statSync(aside).mode & 0o077).toBe(0);
    expect(statSync(join(aside, 'episodes.csv')).mode & 0o077).toBe(0);
    expectNothingPlanted(readFileSync(join(aside, 'problems.csv'), 'utf8'), 'problems.csv');
    expectNothingPlanted(readFileSync(join(aside, 'set-aside.json'), 'utf8'), 'set-aside.json');
  });

  it('are not in a pseudonymised copy', async () => {
    const out = join(folderWith({}), 'copy');
    const key = join(folderWith({}), 'key');
    const ran = await runCommand('pseudonymise', folder, '--out', out, '--key-file', key, '--new-key');
    expect(ran.code).toBe(0);
    expectNothingPlanted(ran.out + ran.log, 'output');
    for (const [name, text] of await everythingIn(out)) expectNothingPlanted(text, name);
  });

  it('are not in the draft of a mapping, nor in what is read through one', async () => {
    const mapping = join(folderWith({}), 'mapping.yaml');
    const ran = await runCommand('map', folder, '--out', mapping);
    expectNothingPlanted(ran.out + ran.log + readFileSync(mapping, 'utf8'), 'draft');
    writeFileSync(
      mapping,
      `version: 1\nsources: {${TABLE_NAMES.map(name => `${name}: {file: ${name}.csv}`).join(', ')}}\ntables: {${TABLE_NAMES.map(name => `${name}: [{from: ${name}}]`).join(', ')}}\n`,
    );
    const checked = await runCommand('check', folder, '--mapping', mapping, '--show', '100000');
    expect(checked.code).toBe(1);
    expectNothingPlanted(checked.out + checked.log, 'check with a mapping');
  });
});

describe('birth dates', () => {
  it('become ages: no command prints or writes one', async () => {
    const row = `E1,I1,N1,left,${BIRTH},2025-02-10`;
    const folder = folderWith({
      'episodes.csv': `episode_id,infant_id,site_id,foot,birth_date,start_date\n${row}\nE2,I2,N1,left,${BIRTH},2024-12-11\nE3,I3,N1,left,12/12/2024,2025-02-10\n`,
      'assessments.csv': 'episode_id,date,kind\nE1,2024-12-01,baseline\n',
    });
    const base = folderWith({});
    const checked = await runCommand('check', folder, '--json');
    const report = await runCommand('report', 'cohort', folder, '--out', join(base, 'report'));
    expect(report.code).toBe(0);
    const key = join(folderWith({}), 'key');
    const copied = await runCommand(
      'pseudonymise',
      folder,
      '--out',
      join(base, 'copy'),
      '--key-file',
      key,
      '--new-key',
    );
    const all = [
      checked.out,
      checked.log,
      report.out,
      report.log,
      copied.out,
      ...(await everythingIn(base)).flat(),
    ].join('\n');
    expect(all).not.toContain(BIRTH);
    expect(all).not.toContain('12/12/2024');
    expect(readFileSync(join(base, 'copy', 'episodes.csv'), 'utf8')).toMatch(/,60,,,2025-02-10,/);
  });
});

describe('pseudonymising', () => {
  const ids = 'episode_id,infant_id,site_id,clinician_id,foot,age_at_start_days,start_date';
  const files = {
    'episodes.csv': `${ids}\nE1,I1,N1,C1,left,60,2025-02-10\nE2,I1,N1,C2,right,60,2025-02-10\n`,
    'assessments.csv':
      'episode_id,date,kind,assessor_id\nE1,2025-02-10,baseline,C1\nE2,2025-02-10,baseline,C1\n',
  };
  const keyIn = (folder: string): string => join(folder, 'key');

  it('gives the same code for the same person under one key, another under another, and none back', async () => {
    const folder = folderWith(files);
    const base = folderWith({});
    const [key, other] = [keyIn(folderWith({})), keyIn(folderWith({}))];
    await runCommand('pseudonymise', folder, '--out', join(base, 'a'), '--key-file', key, '--new-key');
    await runCommand('pseudonymise', folder, '--out', join(base, 'b'), '--key-file', key);
    await runCommand('pseudonymise', folder, '--out', join(base, 'c'), '--key-file', other, '--new-key');
    const episodes = (name: string): string => readFileSync(join(base, name, 'episodes.csv'), 'utf8');
    expect(episodes('a')).toBe(episodes('b'));
    expect(episodes('a')).not.toBe(episodes('c'));
    const [, one = '', two = ''] = episodes('a').split('\n');
    expect(one).toMatch(/^e-[0-9a-f]{20},i-[0-9a-f]{20},s-[0-9a-f]{20},c-[0-9a-f]{20},left,,60,/);
    expect(one.split(',')[1]).toBe(two.split(',')[1]);
    const assessor = readFileSync(join(base, 'a', 'assessments.csv'), 'utf8')
      .split('\n')[1]
      ?.split(',')[2];
    expect(assessor).toBe(one.split(',')[3]);
    expect((await runCommand('check', join(base, 'a'))).code).toBe(0);
    expect(statSync(key).mode & 0o777).toBe(0o600);
    expect(readFileSync(join(folder, 'episodes.csv'), 'utf8')).toBe(files['episodes.csv']);
  });

  it('keeps the key apart, and never makes one over another', async () => {
    const folder = folderWith(files);
    const base = folderWith({});
    const refused = async (out: string, key: string, ...more: readonly string[]): Promise<string> => {
      const ran = await runCommand('pseudonymise', folder, '--out', out, '--key-file', key, ...more);
      expect(ran.code).toBe(2);
      return ran.log;
    };
    const out = join(base, 'out');
    expect(await refused(out, keyIn(folder), '--new-key')).toContain('lies in the export');
    expect(await refused(out, keyIn(out), '--new-key')).toContain('lies in the folder to write to');
    expect(await refused(join(folder, 'out'), keyIn(base), '--new-key')).toContain('lie within one another');
    expect(await refused(out, keyIn(base))).toContain('is no key file');
    writeFileSync(keyIn(base), 'short', { mode: 0o600 });
    expect(await refused(out, keyIn(base))).toContain('holds no key');
    expect(await refused(out, keyIn(base), '--new-key')).toContain('cannot be made (EEXIST)');
    writeFileSync(join(base, 'open'), `${'ab'.repeat(32)}\n`, { mode: 0o644 });
    expect(await refused(out, join(base, 'open'))).toContain('may be read by others');
    mkdirSync(out);
    writeFileSync(join(out, 'x'), '');
    expect(await refused(out, keyIn(base))).toContain('is not empty');
    expect(readdirSync(folder).sort()).toEqual(['assessments.csv', 'episodes.csv']);
  });
});

describe('what looks as if it identified a person', () => {
  it.each([
    ['Patient Name', 'name'],
    ['Vorname', 'name'],
    ['nom_de_la_mère', 'name'],
    ['Notfalltelefonnummer', 'phone number'],
    ['Código postal', 'address'],
    ['NHS No.', 'health-service number'],
    ['codiceFiscale', 'health-service number'],
    ['E-Mail', 'e-mail address'],
    ['Date of birth', 'birth date'],
    ['Bemerkungen', 'free text'],
    ['device', undefined],
    ['first visit', undefined],
    ['hours', undefined],
  ])('by its header: %s', (header, what) => {
    expect(identifyingHeader(header)).toBe(what);
  });

  it.each([
    ['a.b@example.org', 'e-mail address'],
    ['+49 30 1234567', 'phone number'],
    ['943 476 5919', 'health-service number'],
    ['A123456789', 'health-service number'],
    ['12 Quarry Lane', 'address'],
    ['TH4 9ZZ', 'address'],
    ['Ann Example', 'name'],
    ['she was seen by the other clinic', 'free text'],
    ['2025-02-10', undefined],
    ['10.02.2025', undefined],
    ['left', undefined],
    ['kestrel-quay-c1', undefined],
    ['PAT-443322119', 'health-service number'],
    ['E0001', undefined],
    ['s-12345678901234567890', undefined],
  ])('by its value: %s', (value, what) => {
    expect(identifyingValue(value)).toBe(what);
  });

  it('is not shown, and what is plainly nothing of the kind is', () => {
    const shown = ['25', '24.5', '1e309', '30.6.2025', '2025-02-30', 'Links', 'LEFT', 'Y', 'n/a', 'männlich'];
    expect(shown.filter(text => !harmlessValue(text))).toEqual([]);
    const hidden = ['Ann', 'Wrightson', 'wright', '7700900', '12 Lane', 'x'.repeat(20), 'tel 12'];
    expect(hidden.filter(harmlessValue)).toEqual([]);
    expect([harmlessCode('E0001'), harmlessCode('Annabel'), harmlessCode('9434765919')]).toEqual([
      true,
      false,
      false,
    ]);
  });
});
