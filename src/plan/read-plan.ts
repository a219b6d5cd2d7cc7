import { parseDocument } from 'yaml';
import { allowedAt } from './allowed.ts';
import type { Plan } from './plan.ts';
import { defaultPlan, planSchema } from './plan.ts';
import { sha256 } from './sha256.ts';

/** One thing wrong with a plan. */
export interface PlanProblem {
  /** Such as `correction.bisectorAtMost` or `phases.hours[1]`; empty for the plan as a whole. */
  readonly path: string;
  readonly allowed: string;
  readonly message: string;
}

/** A plan that cannot be used; the message names every problem, one a line. */
export class PlanError extends Error {
  override readonly name = 'PlanError';
  readonly problems: readonly PlanProblem[];

  constructor(problems: readonly PlanProblem[]) {
    super(problems.map(problem => problem.message).join('\n'));
    this.problems = problems;
  }
}

/**
 * Reads a plan in YAML; fields left out have their defaults, and an empty text is the default plan.
 *
 * @throws PlanError naming path, value and what is allowed, for all that is wrong at once
 */
export function readPlan(text: string, file = 'plan.yaml'): Plan {
  const document = parseDocument(text, { schema: 'core', logLevel: 'silent' });
  const [fault] = document.errors;
  if (fault !== undefined) {
    const [line] = fault.linePos ?? [];
    const where = line === undefined ? file : `${file}, line ${line.line}`;
    const reason = fault.message.split('\n')[0]?.replace(/ at line \d+, column \d+:?$/, '') ?? '';
    throw new PlanError([{ path: '', allowed: 'YAML', message: `${where}: is not YAML (${reason})` }]);
  }
  const given = plainValue(document, file);
  if (given === undefined || given === null) return defaultPlan();
  const read = planSchema.safeParse(given);
  if (read.success) return read.data;
  throw new PlanError(
    read.error.issues.flatMap(issue => {
      if (issue.code === 'unrecognized_keys') {
        return issue.keys.map(key => unknownField(file, [...issue.path, key], issue.path));
      }
      return [notAllowed(file, issue.path, valueAt(given, issue.path))];
    }),
  );
}

/** SHA-256 of a plan: of its JSON with the fields of every object in alphabetical order. */
export function planHash(plan: Plan): string {
  return sha256(JSON.stringify(inOrder(plan)));
}

function plainValue(document: ReturnType<typeof parseDocument>, file: string): unknown {
  try {
    // No alias is followed, so that a small file cannot grow large.
    return document.toJS({ maxAliasCount: 0 }) as unknown;
  } catch {
    const allowed = 'YAML without aliases';
    throw new PlanError([{ path: '', allowed, message: `${file}: uses aliases; allowed: ${allowed}` }]);
  }
}

function notAllowed(file: string, path: readonly PropertyKey[], value: unknown): PlanProblem {
  const name = written(path);
  const allowed = allowedAt(path);
  const subject = name === '' ? 'the plan' : `${name} is ${JSON.stringify(value) ?? 'missing'}, which`;
  return { path: name, allowed, message: `${file}: ${subject} is not allowed; allowed: ${allowed}` };
}

function unknownField(
  file: string,
  path: readonly PropertyKey[],
  parent: readonly PropertyKey[],
): PlanProblem {
  const name = written(path);
  const allowed = allowedAt(parent);
  return { path: name, allowed, message: `${file}: ${name} is not a field of the plan; allowed: ${allowed}` };
}

function written(path: readonly PropertyKey[]): string {
  return path
    .map((step, i) => (typeof step === 'number' ? `[${step}]` : `${i === 0 ? '' : '.'}${String(step)}`))
    .join('');
}

function valueAt(given: unknown, path: readonly PropertyKey[]): unknown {
  let value = given;
  for (const step of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Readonly<Record<PropertyKey, unknown>>)[step];
  }
  return value;
}

function inOrder(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(inOrder);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([key, inner]) => [key, inOrder(inner)]));
}
