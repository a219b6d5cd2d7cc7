// The published study stands by itself: its page says what its numbers say, asks for nothing and can be read aloud.
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parseHTML } from 'linkedom';
import { failureTexts, inBriefTexts } from './in-brief.ts';
import { STUDIED } from './scenarios.ts';
import type { StudyResult } from './study.ts';

const at = (path: string) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const read = (path: string) => readFileSync(at(`reports/recovery/${path}`), 'utf8');
const study = JSON.parse(read('findings.json')) as StudyResult;
const page = read('index.html');
const { document } = parseHTML(page);
const plain = (text: string) => text.replace(/\s+/g, ' ').trim();

describe('the published recovery study', () => {
  it('has every scenario by as many exports, none of which an analysis gave up', () => {
    expect(study.scenarios.map(({ scenario }) => scenario)).toEqual(STUDIED);
    expect(new Set(study.scenarios.map(({ exports }) => exports))).toEqual(new Set([study.exports]));
    expect(study.scenarios.flatMap(({ failed }) => Object.keys(failed))).toEqual([]);
    expect(study.exports).toBeGreaterThanOrEqual(300);
  });

  it('says in words what its numbers say', () => {
    const words = plain(document.body.textContent ?? '');
    const texts = inBriefTexts(study.scenarios);
    expect(texts).toHaveLength(3);
    for (const text of [...texts, ...failureTexts(study.scenarios)]) expect(words).toContain(plain(text));
  });

  it('finds the visit-dated estimate late and the interval-censored one not', () => {
    const ordinary = study.scenarios[0]?.recoveries ?? [];
    const of = (method: string, what: string) => {
      const found = ordinary.find(r => r.method === method && r.what === what && r.target === 'true');
      if (found?.bias === undefined || found.coverage === undefined)
        throw new RangeError(`no ${what} by ${method}`);
      return { bias: found.bias, coverage: found.coverage };
    };
    for (const band of ['mild', 'moderate', 'severe']) {
      expect(of('Kaplan–Meier, visit-dated', `${band}, week 6`).bias).toBeLessThan(-0.1);
      expect(of('Kaplan–Meier, visit-dated', band).bias).toBeGreaterThan(1);
      const interval = of('Turnbull, lower end', `${band}, week 6`);
      expect(Math.abs(interval.bias)).toBeLessThan(0.02);
      expect(interval.coverage).toBeGreaterThan(0.92);
    }
  });

  it('asks for nothing from elsewhere, and its figures have words', () => {
    for (const element of document.querySelectorAll('[src], [href]')) {
      expect(element.getAttribute('src') ?? element.getAttribute('href')).toMatch(/^(#|data:)/);
    }
    const figures = [...document.querySelectorAll('svg')];
    expect(figures.length).toBeGreaterThan(0);
    for (const figure of figures) {
      expect(figure.getAttribute('role')).toBe('img');
      expect(figure.querySelector('title')?.textContent).not.toBe('');
      expect((figure.querySelector('desc')?.textContent ?? '').length).toBeGreaterThan(40);
    }
  });

  it('has its tables beside it, a line a number', () => {
    const lines = (name: string) => read(`tables/${name}.csv`).trim().split('\n').length - 1;
    const sum = (of: (scenario: StudyResult['scenarios'][number]) => number) =>
      study.scenarios.reduce((total, scenario) => total + of(scenario), 0);
    expect(readdirSync(at('reports/recovery/tables')).sort()).toEqual([
      'audit.csv',
      'estimates.csv',
      'tests.csv',
    ]);
    expect(lines('estimates')).toBe(sum(({ recoveries }) => recoveries.length));
    expect(lines('tests')).toBe(sum(({ tests }) => tests.length));
    expect(lines('audit')).toBe(sum(({ audit }) => audit.length));
  });

  it('is what the documentation tells of', () => {
    const told = readFileSync(at('docs/recovery.md'), 'utf8');
    expect(told).toContain(`Made with ${study.exports} exports`);
    expect(told).toContain(`seed ${study.seed}`);
  });
});
