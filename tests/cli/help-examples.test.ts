import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { folderWith } from '../records/files/folder.ts';
import { runCommand } from './run-command.ts';

const COMMANDS: readonly (readonly string[])[] = [
  ['check'],
  ['map'],
  ['pseudonymise'],
  ['report'],
  ['report', 'cohort'],
  ['report', 'duration'],
  ['report', 'audit'],
  ['analyse'],
  ['frames'],
  ['counsel'],
  ['verify'],
  ['why'],
  ['dictionary'],
  ['simulate'],
];

const page = readFileSync(new URL('../../docs/command-line.md', import.meta.url), 'utf8');
let room = '';

beforeAll(() => {
  room = folderWith({
    'plan.yaml': 'relapse:\n  weeksAfterTherapy: 10\n',
    'changes.yaml': 'cohort:\n  feet: 40\n',
  });
  const clinic = join(room, 'clinic-export');
  cpSync(fileURLToPath(new URL('../reference/clinics/canonical', import.meta.url)), clinic, {
    recursive: true,
  });
  cpSync(clinic, join(room, 'next-export'), { recursive: true });
  const tables = ['episodes', 'assessments', 'phases', 'wear', 'events'];
  const sources = tables.map(name => `  ${name}: {file: ${name}.csv}`);
  const blocks = tables.map(name => `  ${name}: [{from: ${name}}]`);
  writeFileSync(
    join(room, 'mapping.yaml'),
    ['version: 1', 'sources:', ...sources, 'tables:', ...blocks, ''].join('\n'),
  );
});

/** The words of an example, with what lies in the room in the place of the names. */
function wordsOf(example: string): readonly string[] {
  const words = [...example.replace(/ > \S+$/, '').matchAll(/"([^"]*)"|(\S+)/g)].map(
    ([, quoted, bare]) => quoted ?? bare ?? '',
  );
  const places =
    /^(clinic-export|next-export|reports|frames|to-correct|for-research(-2)?|invented-clinic|[a-z-]+\.(yaml|json|xlsx))$/;
  return words
    .slice(1)
    .map(word => (word.startsWith('/safe/place/') ? join(room, word.slice(12)) : word))
    .map((word, k) => (k > 0 && places.test(word) ? join(room, word) : word));
}

async function helpOf(command: readonly string[]): Promise<string> {
  const { code, out } = await runCommand(...command, '--help');
  expect(code).toBe(0);
  return out;
}

describe('the help of every command', () => {
  it('is here for every command there is', async () => {
    const { out } = await runCommand('--help');
    const listed: readonly string[] = [...(out.split('Commands:')[1] ?? '').matchAll(/^ {2}([a-z]+) /gm)].map(
      ([, name]) => name ?? '',
    );
    const names = new Set(COMMANDS.map(([name]) => name ?? ''));
    expect(new Set(listed.filter(name => name !== 'help'))).toEqual(names);
    expect(out).toMatch(/Exit codes: 0 .* 1 .* 2 [^]* 3 /);
  });

  it.each(COMMANDS.map(words => ({ words, name: words.join(' ') })))(
    '$name: says what its exit codes mean, and has examples',
    async ({ words: command }) => {
      const help = await helpOf(command);
      expect(help).toMatch(/^Exit code: 0 /m);
      expect(help).toMatch(/Examples:\n[^]*\$ forefoot /);
    },
  );

  it('has examples that run as they stand', async () => {
    const failed: string[] = [];
    const ran = new Set<string>();
    for (const command of COMMANDS) {
      // The files that an example needs are made by one before it, or lie there.
      for (const [, example = ''] of (await helpOf(command)).matchAll(/^ +\$ (forefoot .*)$/gm)) {
        if (ran.has(example)) continue;
        ran.add(example);
        const words = wordsOf(example);
        const fresh = example.includes('map clinic-export')
          ? words.map(word => (word === join(room, 'mapping.yaml') ? join(room, 'drafted.yaml') : word))
          : example.includes('simulate --feet') || example.includes('simulate informative')
            ? [...words.filter(word => word !== '--replace'), '--replace']
            : words;
        const quarter = fresh.indexOf('2026-Q3');
        const { code, log } = await runCommand(...fresh);
        // An export of so few feet has no quarter of that name, and a second version of its report would tell small numbers.
        const refused = log.includes('small numbers could be worked out');
        if (code === 2 && quarter === -1 && !refused) failed.push(`${example}: ${log}`);
        if (code === 3) failed.push(`${example}: ${log}`);
      }
    }
    expect(failed).toEqual([]);
    expect(ran.size).toBeGreaterThan(25);
  }, 600_000);

  it('suggests the option or command that was meant', async () => {
    for (const [words, meant] of [
      [['check', 'x', '--maping', 'y'], '--mapping'],
      [['report', 'audit', 'x', '--out', 'y', '--quater', 'z'], '--quarter'],
      [['report', 'cohrt'], 'cohort'],
      [['simulat'], 'simulate'],
    ] as const) {
      const { code, log } = await runCommand(...words);
      expect([code, log]).toEqual([2, expect.stringContaining(`(did you mean ${meant}?)`)]);
    }
  });
});

describe('what is printed as JSON', () => {
  const keysOf = (value: unknown): readonly string[] =>
    typeof value === 'object' && value !== null ? Object.keys(value) : [];
  /** Keys that the page does not tell of. */
  const untold = (keys: readonly string[]): readonly string[] =>
    keys.filter(key => !page.includes(`\`${key}\``));

  it('has no key that the page of the command line does not tell of', async () => {
    const flawed = fileURLToPath(new URL('../../synthetic-data/with-problems', import.meta.url));
    for (const words of [
      ['check', flawed, '--json'],
      ['check', join(room, 'clinic-export'), '--json', '--mapping', join(room, 'mapping.yaml')],
      ['check', join(room, 'nowhere'), '--json'],
      ['why', join(room, 'clinic-export'), '--list', '--json'],
      ['why', join(room, 'clinic-export'), 'flow/accepted', '--json'],
    ]) {
      const document = JSON.parse((await runCommand(...words)).out) as Record<string, unknown>;
      const inner = Object.values(document).flatMap(list => (Array.isArray(list) ? keysOf(list[0]) : []));
      expect([words, untold([...Object.keys(document), ...inner])]).toEqual([words, []]);
    }
  }, 60_000);
});
