import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/reports/canonical-json.ts';

describe('canonical JSON', () => {
  it('gives the same bytes whatever the order of keys', () => {
    const one = canonicalJson({ b: 1, a: { d: [3, { y: 1, x: 2 }], c: 'x' } });
    expect(canonicalJson({ a: { c: 'x', d: [3, { x: 2, y: 1 }] }, b: 1 })).toBe(one);
    expect(Object.keys(JSON.parse(one) as object)).toEqual(['a', 'b']);
    expect(one.endsWith('}\n')).toBe(true);
  });

  it('keeps numbers at full precision', () => {
    const value = 0.1 + 0.2;
    expect((JSON.parse(canonicalJson({ value })) as { value: number }).value).toBe(value);
  });

  it('leaves out undefined fields and marks undefined items', () => {
    expect(canonicalJson({ a: undefined, b: [undefined, 1] })).toBe(
      '{\n  "b": [\n    null,\n    1\n  ]\n}\n',
    );
  });

  it('keeps a key that is the name of a prototype', () => {
    expect(canonicalJson(JSON.parse('{"__proto__": 1}'))).toBe('{\n  "__proto__": 1\n}\n');
  });

  it('refuses what is not finite, naming its place', () => {
    expect(() => canonicalJson({ a: [1, { b: Number.NaN }] })).toThrow('$.a[1].b is NaN');
    expect(() => canonicalJson(Number.POSITIVE_INFINITY)).toThrow('$ is Infinity');
  });
});
