import * as z from 'zod';
import { planSchema } from './plan.ts';

/** The part of a JSON schema that tells what a value may be. */
interface SchemaNode {
  readonly type?: string;
  readonly properties?: Readonly<Record<string, SchemaNode>>;
  readonly items?: SchemaNode;
  readonly enum?: readonly string[];
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly exclusiveMaximum?: number;
  readonly minItems?: number;
}

const SCHEMA = z.toJSONSchema(planSchema, { io: 'input' }) as SchemaNode;

/** What the plan allows at a path, in words, such as `a number from 2 to 5`. */
export function allowedAt(path: readonly PropertyKey[]): string {
  let node: SchemaNode | undefined = SCHEMA;
  for (const step of path) {
    node = typeof step === 'number' ? node?.items : node?.properties?.[String(step)];
  }
  return node === undefined ? 'no such field' : inWords(node);
}

function inWords(node: SchemaNode): string {
  if (node.enum !== undefined) return node.enum.join(', ');
  switch (node.type) {
    case 'object':
      return `the fields ${Object.keys(node.properties ?? {}).join(', ')}`;
    case 'array': {
      const least = node.minItems === undefined ? 'a list' : 'a list of at least one';
      return `${least}, each ${node.items?.enum === undefined ? '' : 'one of '}${inWords(node.items ?? {})}`;
    }
    case 'boolean':
      return 'true, false';
    default:
      return [node.type === 'integer' ? 'a whole number' : 'a number', ...limits(node)].join(' ');
  }
}

/** Limits that only say what a double can hold are left out. */
function limits(node: SchemaNode): string[] {
  const { minimum, maximum, exclusiveMinimum, exclusiveMaximum } = node;
  const words: string[] = [];
  if (exclusiveMinimum !== undefined) words.push(`over ${exclusiveMinimum}`);
  else if (minimum !== undefined && minimum > Number.MIN_SAFE_INTEGER) words.push(`from ${minimum}`);
  if (exclusiveMaximum !== undefined) words.push(`under ${exclusiveMaximum}`);
  else if (maximum !== undefined && maximum < Number.MAX_SAFE_INTEGER) words.push(`to ${maximum}`);
  return words;
}
