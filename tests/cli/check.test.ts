import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CLEAN, folderWith } from '../records/files/folder.ts';
import { runCommand } from './run-command.ts';

const WITH_FAULTS = {
  ...CLEAN,
  'wear.csv': `${CLEAN['wear.csv']}E1,2025-02-13,logger,20\nE1,2025-02-14,logger,20\n`,
  'phases.csv': 'episode_id,start_date,prescribed_hours,device\nE1,2025-02-10,24,\nE1,2025-03-10,15,\n',
};

describe('forefoot check', () => {
  it('prints the counts of a clean export and exits with 0', async () => {
    const { code, out, log } = await runCommand('check', folderWith(CLEAN));
    expect({ code, log }).toEqual({ code: 0, log: '' });
    expect(out).toBe(
      [
        'Service: Invented Clinic',
        'Data cut-off: 2025-06-30 (given in export.yaml)',
        '',
        'file             rows read  accepted  refused',
        'episodes.csv             2         2        0',
        'assessments.csv          2         2        0',
        'phases.csv               2         2        0',
        'wear.csv                 2         2        0',
        'events.csv               1         1        0',
        '',
        'No problems found.',
        '',
      ].join('\n'),
    );
  });

  it('lists the problems, refusals first, and exits with 1', async () => {
    const { code, out } = await runCommand('check', folderWith(WITH_FAULTS));
    expect(code).toBe(1);
    expect(out.split('\n').slice(9)).toEqual([
      '',
      'phases.csv: columns kept out: device',
      '',
      'Found: 2 problems for which data were refused, 1 warning.',
      'phases.csv  phase-without-end    warning  1',
      'wear.csv    not-an-allowed-word  refused  2',
      '',
      'refused: wear.csv, line 4: source "logger" is not an allowed word; allowed: sensor, diary, recall',
      'refused: wear.csv, line 5: source "logger" is not an allowed word; allowed: sensor, diary, recall',
      'warning: phases.csv, line 2: end_date is blank although another spell follows (line 3); allowed: 2025-03-09, the day before the next spell starts',
      '',
    ]);
  });

  it('prints no more problems than asked for, and says how many are left', async () => {
    const { out } = await runCommand('check', folderWith(WITH_FAULTS), '--show', '1');
    expect(out.match(/^(refused|warning): /gm)).toEqual(['refused: ']);
    expect(out).toContain('\n2 more not printed; --show prints more, --json lists them.\n');
  });

  it('gives every kind its turn where not all problems fit', async () => {
    const wear = `${WITH_FAULTS['wear.csv']}E1,2025-02-15,logger,20\nE1,2025-02-30,diary,20\n`;
    const { out } = await runCommand('check', folderWith({ ...CLEAN, 'wear.csv': wear }), '--show', '3');
    expect(out.match(/^refused: wear\.csv, line \d+: \w+/gm)).toEqual([
      'refused: wear.csv, line 4: source',
      'refused: wear.csv, line 5: source',
      'refused: wear.csv, line 7: date',
    ]);
  });

  it('exits with 0 for warnings alone', async () => {
    const files = { ...WITH_FAULTS, 'wear.csv': CLEAN['wear.csv'] };
    expect((await runCommand('check', folderWith(files))).code).toBe(0);
  });

  it('prints JSON', async () => {
    const { code, out, log } = await runCommand('check', folderWith(WITH_FAULTS), '--json');
    expect({ code, log }).toEqual({ code: 1, log: '' });
    expect(JSON.parse(out)).toMatchObject({
      version: 1,
      usable: true,
      service: 'Invented Clinic',
      cutOff: '2025-06-30',
      cutOffGiven: true,
      files: [
        { table: 'episodes', file: 'episodes.csv', read: 2, accepted: 2, refused: 0 },
        { table: 'assessments' },
        { table: 'phases', extraColumns: ['device'] },
        { table: 'wear', read: 4, accepted: 2, refused: 2 },
        { table: 'events' },
      ],
      problemCounts: [{ kind: 'phase-without-end' }, { kind: 'not-an-allowed-word', count: 2 }],
      problems: [{ line: 2 }, { line: 4, field: 'source', value: 'logger' }, { line: 5 }],
    });
  });

  it('exits with 2 for an export that cannot be used, with one line or JSON', async () => {
    const folder = folderWith({});
    const message =
      'episodes.csv: is not in the export; allowed: a file of that name, or a mapping of the files that are there ("forefoot map" drafts one)';
    expect(await runCommand('check', folder)).toEqual({ code: 2, out: '', log: `forefoot: ${message}\n` });
    const { code, out } = await runCommand('check', folder, '--json');
    expect(code).toBe(2);
    expect(JSON.parse(out)).toMatchObject({ version: 1, usable: false, problems: [{ message }] });
  });

  it('takes the phases of a plan', async () => {
    const folder = folderWith({ ...CLEAN, 'plan.yaml': 'phases:\n  hours: [20, 10]\n' });
    const { code, out } = await runCommand('check', folder, '--plan', join(folder, 'plan.yaml'));
    expect(code).toBe(1);
    expect(out).toContain('prescribed_hours "24" is not a phase of the plan; allowed: 20, 10');
  });

  it('names what is wrong with a plan, one line each', async () => {
    const folder = folderWith({ ...CLEAN, 'plan.yaml': 'level: 2\nlapse:\n  below: 3\n' });
    expect(await runCommand('check', folder, '--plan', join(folder, 'plan.yaml'))).toEqual({
      code: 2,
      out: '',
      log: [
        'forefoot: plan.yaml: lapse.below is 3, which is not allowed; allowed: a number from 0 to 1\n',
        'forefoot: plan.yaml: level is 2, which is not allowed; allowed: a number over 0.5 under 1\n',
      ].join(''),
    });
    const { code, log } = await runCommand('check', folder, '--plan', 'no-such.yaml');
    expect([code, log]).toEqual([
      2,
      'forefoot: the plan no-such.yaml cannot be read (ENOENT); allowed: a YAML file\n',
    ]);
  });

  it('sets the refused rows aside, and never where something lies', async () => {
    const folder = folderWith(WITH_FAULTS);
    const target = join(folderWith({}), 'set-aside');
    const { code, log } = await runCommand('check', folder, '--quarantine', target);
    expect([code, log]).toEqual([1, `Quarantine ${target}: wear.csv, set-aside.json, problems.csv\n`]);
    expect(readdirSync(target).sort()).toEqual(['problems.csv', 'set-aside.json', 'wear.csv']);
    expect(await runCommand('check', folder, '--quarantine', folder)).toEqual({
      code: 2,
      out: '',
      log: `forefoot: ${folder} is not empty; allowed: a new or empty folder\n`,
    });
  });

  it('changes nothing in the export', async () => {
    const folder = folderWith(WITH_FAULTS);
    await runCommand('check', folder);
    expect(readdirSync(folder).sort()).toEqual(Object.keys(WITH_FAULTS).sort());
    for (const [name, text] of Object.entries(WITH_FAULTS)) {
      expect(readFileSync(join(folder, name), 'utf8')).toBe(text);
    }
  });
});
