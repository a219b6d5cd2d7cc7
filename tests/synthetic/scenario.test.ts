import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { scenarioSchema } from '../../src/synthetic/scenario.ts';
import { overlay, scenarioFrom, scenarioFromText, scenarioText } from '../../src/synthetic/scenario-text.ts';
import { namedScenario, SCENARIOS, settingsOf } from '../../src/synthetic/scenarios/index.ts';

interface Node {
  readonly description?: string;
  readonly source?: string;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
}

/** Names of the parameters that lack a meaning or a source; a number for each phase is explained as one. */
function unexplained(node: Node, path: string): string[] {
  if (node.description !== undefined && node.source !== undefined && node.items === undefined) return [];
  const children = Object.entries({ ...node.properties, ...(node.items ? { items: node.items } : {}) });
  if (children.length === 0) return [path];
  return children.flatMap(([name, child]) => unexplained(child, `${path}.${name}`));
}

describe('scenarios', () => {
  it('explain every parameter and name its source', () => {
    const schema = z.toJSONSchema(scenarioSchema, { io: 'input' }) as Node;
    expect(Object.keys(schema.properties ?? {}).length).toBeGreaterThan(15);
    expect(unexplained(schema, 'scenario')).toEqual([]);
  });

  it('are named apart and stand for what was asked for', () => {
    const names = SCENARIOS.map(s => s.name);
    expect(new Set(names).size).toBe(names.length);
    expect(names).toEqual(
      expect.arrayContaining([
        'ordinary-clinic',
        'no-effect-of-severity',
        'strong-effect',
        'informative-drop-out',
        'heavy-bilateral',
        'tiny-clinic',
        'national-registry',
        'failing-site',
        'skin-cluster',
      ]),
    );
    expect(namedScenario('tiny-clinic').cohort.feet).toBe(12);
    expect(namedScenario('national-registry').cohort.feet).toBe(100_000);
  });

  it.each(SCENARIOS.map(s => s.name ?? ''))('%s comes back from its own text', name => {
    const scenario = namedScenario(name);
    const text = scenarioText(scenario);
    expect(scenarioFromText(text, {})).toEqual(scenario);
    expect(text).toContain('Invented.');
  });

  it('lay settings over a base field by field', () => {
    const base = Object.freeze({ a: Object.freeze({ x: 1, y: 2 }), list: Object.freeze([1, 2]) });
    expect(overlay(base, { a: { y: 3 }, list: [9] })).toEqual({ a: { x: 1, y: 3 }, list: [9] });
    expect(scenarioFromText('cohort: {bilateralShare: 0.1}', settingsOf('tiny-clinic')).cohort).toMatchObject(
      {
        bilateralShare: 0.1,
        feet: 12,
      },
    );
    expect(scenarioFromText('', settingsOf('tiny-clinic')).name).toBe('tiny-clinic');
  });

  it('refuse what cannot be used, by name', () => {
    expect(() => scenarioFrom({ cohort: { bilateralShare: 1.5 } })).toThrow(/cohort\.bilateralShare: /);
    expect(() => scenarioFrom({ stifness: {} })).toThrow(/stifness/);
    expect(() => settingsOf('seaside')).toThrow(
      /there is no scenario "seaside"; there are: ordinary-clinic, /,
    );
  });
});
