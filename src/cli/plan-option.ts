import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import type { Plan } from '../plan/plan.ts';
import { defaultPlan } from '../plan/plan.ts';
import { readPlan } from '../plan/read-plan.ts';
import { UserError } from './command.ts';

/** The plan in a file, or the default plan if no file is named. */
export async function planFrom(path: string | undefined): Promise<Plan> {
  if (path === undefined) return defaultPlan();
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    const reason = error instanceof Error && 'code' in error ? String(error.code) : 'unknown reason';
    throw new UserError(`the plan ${path} cannot be read (${reason}); allowed: a YAML file`);
  });
  return readPlan(text, basename(path));
}
