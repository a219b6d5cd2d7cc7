import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { dice } from './dice.ts';
import { MUTATORS } from './mutators.ts';
import type { Outcome } from './outcome.ts';
import { outcomeOf } from './outcome.ts';
import { targets } from './targets.ts';

export interface FuzzResult {
  readonly runs: number;
  readonly outcomes: Readonly<Record<Outcome, number>>;
  /** How often each mutator was used. */
  readonly used: Readonly<Record<string, number>>;
  readonly failures: readonly FuzzFailure[];
  readonly slowestMilliseconds: number;
}

export interface FuzzFailure {
  readonly run: number;
  readonly target: string;
  readonly changes: readonly string[];
  readonly message: string;
  /** The files that broke it. */
  readonly files: Readonly<Record<string, Buffer>>;
}

/** A mapping is drafted in one run of so many. */
const RUNS_A_DRAFT = 25;

/** Reads exports that were broken at random, one to three ways each; run i of a seed is always the same. */
export async function runFuzz(runs: number, seed: number): Promise<FuzzResult> {
  const names = Object.keys(MUTATORS);
  const all = targets();
  const outcomes = { clean: 0, problems: 0, unusable: 0 };
  const used: Record<string, number> = {};
  const failures: FuzzFailure[] = [];
  let slowest = 0;
  for (let run = 0; run < runs; run++) {
    const chance = dice(seed * 1_000_003 + run);
    const target = chance.pick(all);
    const files: Record<string, Buffer> = { ...target.files };
    const changes: string[] = [];
    for (let i = 0; i <= chance.below(3); i++) {
      const [file, name] = [chance.pick(Object.keys(files)), chance.pick(names)];
      files[file] = MUTATORS[name]?.(files[file] ?? Buffer.alloc(0), chance) ?? Buffer.alloc(0);
      used[name] = (used[name] ?? 0) + 1;
      changes.push(`${file}: ${name}`);
    }
    const folder = mkdtempSync(join(tmpdir(), 'forefoot-fuzz-'));
    for (const [name, bytes] of Object.entries(files)) writeFileSync(join(folder, name), bytes);
    const start = performance.now();
    try {
      outcomes[await outcomeOf(folder, files, target.mapping, run % RUNS_A_DRAFT === 0)]++;
    } catch (error) {
      const message = error instanceof Error ? (error.stack ?? error.message) : String(error);
      failures.push({ run, target: target.name, changes, message, files });
    } finally {
      slowest = Math.max(slowest, performance.now() - start);
      rmSync(folder, { recursive: true, force: true });
    }
  }
  return { runs, outcomes, used, failures, slowestMilliseconds: Math.round(slowest) };
}
