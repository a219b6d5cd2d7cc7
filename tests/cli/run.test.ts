import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { dataPackage } from '../../src/records/dictionary/data-package.ts';
import { dictionaryText } from '../../src/records/dictionary/dictionary-text.ts';
import { DICTIONARY } from '../../src/records/dictionary.ts';
import { CLEAN, folderWith } from '../records/files/folder.ts';
import { runCommand } from './run-command.ts';

const root = new URL('../../', import.meta.url);

describe('the program', () => {
  it('prints its version', async () => {
    const { version } = JSON.parse(readFileSync(new URL('package.json', root), 'utf8')) as {
      version: string;
    };
    expect(await runCommand('--version')).toEqual({ code: 0, out: `${version}\n`, log: '' });
  });

  it('has help with examples for itself and every command', async () => {
    const help = await runCommand('--help');
    expect(help).toMatchObject({ code: 0, log: '' });
    expect(help.out).toContain('$ forefoot check clinic-export');
    const commands = [...help.out.matchAll(/^ {2}([a-z]+) (?:\[|<)/gm)].map(([, name]) => name ?? '');
    expect(commands).toEqual(expect.arrayContaining(['check', 'dictionary']));
    for (const command of commands.filter(name => name !== 'help')) {
      expect((await runCommand(command, '--help')).out).toMatch(/Examples:\n[^]*\$ forefoot /);
    }
  });

  it('exits with 2 for a command line it does not know', async () => {
    expect(await runCommand('chek')).toEqual({
      code: 2,
      out: '',
      log: "forefoot: unknown command 'chek' (did you mean check?); --help says what is allowed\n",
    });
    expect((await runCommand('check')).log).toBe(
      "forefoot: missing required argument 'EXPORT'; --help says what is allowed\n",
    );
    expect((await runCommand('check', 'here', '--jsn')).log).toBe(
      "forefoot: unknown option '--jsn' (did you mean --json?); --help says what is allowed\n",
    );
    expect((await runCommand('simulate', '--feet', '-3', '--out', 'x')).log).toBe(
      "forefoot: option '--feet <number>' argument '-3' is invalid. Allowed: a whole number from 1; --help says what is allowed\n",
    );
    expect((await runCommand('check', 'here', '--show', 'all')).code).toBe(2);
    expect((await runCommand()).code).toBe(2);
  });

  it('shows where an error arose with --debug alone', async () => {
    expect((await runCommand('check', 'no/such/folder')).log).not.toContain('at ');
    expect((await runCommand('check', 'no/such/folder', '--debug')).log).toContain('read-folder.ts');
  });
});

describe('forefoot dictionary', () => {
  it('prints a table to read, or a data package', async () => {
    expect(await runCommand('dictionary')).toEqual({ code: 0, out: dictionaryText(DICTIONARY), log: '' });
    const { out } = await runCommand('dictionary', '--format', 'data-package');
    expect(JSON.parse(out)).toEqual(dataPackage(DICTIONARY));
    expect((await runCommand('dictionary', '--format', 'xml')).code).toBe(2);
  });
});

describe('the program as a process', () => {
  it('writes results to stdout, nothing else when nobody watches, and sets the exit code', () => {
    const main = fileURLToPath(new URL('src/cli/main.ts', root));
    const check = (folder: string) =>
      spawnSync(process.execPath, ['--import', 'tsx', main, 'check', folder], {
        encoding: 'utf8',
        cwd: fileURLToPath(root),
      });
    const clean = check(folderWith(CLEAN));
    expect([clean.status, clean.stderr]).toEqual([0, '']);
    expect(clean.stdout).toMatch(/No problems found\.\n$/);
    const unusable = check(folderWith({}));
    expect([unusable.status, unusable.stdout]).toEqual([2, '']);
    expect(unusable.stderr.trimEnd().split('\n')).toHaveLength(1);
  });
});
