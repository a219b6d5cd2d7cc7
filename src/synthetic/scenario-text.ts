import { Document, isMap, isScalar, isSeq, parse } from 'yaml';
import * as z from 'zod';
import { type Scenario, scenarioSchema } from './scenario.ts';

/** The part of a JSON Schema that carries meaning and source. */
interface Described {
  readonly description?: string;
  readonly source?: string;
  readonly properties?: Readonly<Record<string, Described>>;
  readonly items?: Described;
}

function comment(node: unknown, schema: Described | undefined): void {
  if (isSeq(node)) {
    // The first entry explains the fields of all.
    comment(node.items[0], schema?.items);
    return;
  }
  if (!isMap(node)) return;
  for (const pair of node.items) {
    if (!isScalar(pair.key)) continue;
    const field = schema?.properties?.[String(pair.key.value)];
    if (field?.description !== undefined) {
      const source = field.source ?? 'invented';
      pair.key.commentBefore = ` ${field.description}${source === 'invented' ? ' Invented.' : ` Source: ${source}.`}`;
    }
    comment(pair.value, field);
  }
}

/** A scenario as YAML in full, every parameter explained and with its source. */
export function scenarioText(scenario: Scenario): string {
  const document = new Document(scenario);
  comment(document.contents, z.toJSONSchema(scenarioSchema, { io: 'input' }) as Described);
  document.commentBefore = ' Every parameter of an invented export. Leave out what should keep its default.';
  return document.toString({ lineWidth: 0 });
}

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Settings laid over others: objects field by field, everything else whole. */
export function overlay(base: unknown, top: unknown): unknown {
  if (!isRecord(base) || !isRecord(top)) return top === undefined || top === null ? base : top;
  const result: Record<string, unknown> = { ...base };
  for (const [key, value] of Object.entries(top)) result[key] = overlay(base[key], value);
  return result;
}

/**
 * A scenario from settings that may leave out whatever keeps its default.
 * @throws Error naming each parameter that cannot be used, and why
 */
export function scenarioFrom(settings: unknown): Scenario {
  const result = scenarioSchema.safeParse(settings ?? {});
  if (result.success) return result.data;
  const reasons = result.error.issues.map(issue => `${issue.path.join('.') || 'scenario'}: ${issue.message}`);
  throw new Error(`the scenario cannot be used: ${reasons.join('; ')}`);
}

/** A scenario from YAML text laid over a base. */
export function scenarioFromText(text: string, base: unknown): Scenario {
  return scenarioFrom(overlay(base, parse(text) as unknown));
}
