import { execFileSync, spawnSync } from 'node:child_process';
import { appendFileSync, cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCommand } from '../../cli/run-command.ts';
import { blocksOf, PAGES } from '../markdown-blocks.ts';

const root = fileURLToPath(new URL('../../../', import.meta.url));
// A program asks for the package by its own name, which only a folder within it can.
const home = join(root, 'out');

let room = '';
let given = '';

/** A folder with an export, and another with one row that is refused, to set aside and give back. */
beforeAll(async () => {
  mkdirSync(home, { recursive: true });
  given = mkdtempSync(join(home, 'given-'));
  await runCommand('simulate', '--feet', '40', '--seed', '3', '--out', join(given, 'my-export'));
  writeFileSync(join(given, 'plan.yaml'), 'severity: {rule: bisector alone}\n');
  cpSync(join(given, 'my-export'), join(given, 'clinic-export'), { recursive: true });
  appendFileSync(join(given, 'clinic-export', 'events.csv'), 'E0001,2025-01-10,blister,400,,\n');
});

afterAll(() => {
  rmSync(given, { recursive: true, force: true });
});

/** A line is over with code 0, or 1 where data were refused; anything else is a fault of the page. */
function shell(line: string): { readonly code: number | null; readonly out: string; readonly fault: string } {
  const program = `forefoot() { "${process.execPath}" "${root}dist/cli/main.js" "$@"; }\n${line}`;
  const { status, stdout, stderr } = spawnSync('bash', ['-uo', 'pipefail', '-c', program], {
    cwd: room,
    encoding: 'utf8',
  });
  return { code: status === 1 ? 0 : status, out: stdout, fault: status === 0 || status === 1 ? '' : stderr };
}

const pages = PAGES.map(page => ({
  page,
  blocks: blocksOf(page).filter(({ mark, language }) => mark === 'run' || language === 'ts'),
})).filter(({ blocks }) => blocks.length > 0);

describe.each(pages)('the blocks of $page', ({ blocks }) => {
  // Every page starts afresh, and goes on where its block before left off.
  beforeAll(() => {
    room = mkdtempSync(join(home, 'page-'));
    cpSync(given, room, { recursive: true });
  });

  afterAll(() => {
    rmSync(room, { recursive: true, force: true });
  });

  it.each(blocks.filter(({ mark }) => mark === 'run'))('line $line runs', ({ text }) => {
    for (const line of text.trim().split('\n')) {
      const { code, out, fault } = shell(line);
      expect({ line, code, fault }).toEqual({ line, code: 0, fault: '' });
      expect(out, line).not.toBe('');
    }
  });

  it.each(blocks.filter(({ language }) => language === 'ts'))(
    'line $line runs and prints',
    ({ line, text }) => {
      const file = join(room, `block-${line}.ts`);
      writeFileSync(file, text);
      const out = execFileSync(process.execPath, ['--import', 'tsx', file], {
        cwd: room,
        encoding: 'utf8',
        stdio: ['ignore', 'pipe', 'pipe'],
      });
      expect(out.trim()).not.toBe('');
      expect(out).not.toContain('NaN');
    },
  );
});
