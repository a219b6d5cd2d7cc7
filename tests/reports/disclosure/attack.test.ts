import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/analyses/finding.ts';
import { attack, DisclosureError, protectFindings } from '../../../src/reports/disclosure/index.ts';
import {
  findingsDocument,
  findingsJson,
  type FindingsInput,
} from '../../../src/reports/findings-document.ts';
import { countMeasure, curveOf, findingOf, inputOf, tableOf } from './findings.ts';

/** What the attack finds in a report of which only the given parts were hidden, by hand. */
function found(
  truth: FindingsInput,
  published: Finding,
  files: readonly { path: string; text: string }[] = [],
) {
  const shown = { ...truth, findings: [published] };
  return attack([{ path: 'findings.json', text: findingsJson(shown) }, ...files], truth);
}

describe('the attack works out a small count', () => {
  it('that stands in plain sight', () => {
    const finding = findingOf({ measures: [countMeasure('a', 3, 'x')] });
    expect(found(inputOf([finding]), finding)).toEqual(['question/measure/a.x/estimate']);
  });

  it('by taking the shown parts from the total', () => {
    const table = tableOf({ feet: [3, 20, 30] });
    const truth = inputOf([findingOf({ tables: [table] })]);
    const row = { ...table.rows[0], g0: 'fewer than 5' };
    expect(found(truth, findingOf({ tables: [{ ...table, rows: [row] }] }))).toHaveLength(1);
    const both = { ...row, g1: 'withheld' };
    expect(found(truth, findingOf({ tables: [{ ...table, rows: [both] }] }))).toEqual([]);
  });

  it('by bounds, where two small parts leave no room', () => {
    const table = tableOf({ feet: [4, 4, 30] });
    const truth = inputOf([findingOf({ tables: [table] })]);
    const row = { ...table.rows[0], g0: 'fewer than 5', g1: 'fewer than 5' };
    expect(found(truth, findingOf({ tables: [{ ...table, rows: [row] }] }))).toHaveLength(2);
  });

  it('from a share and its denominator', () => {
    const measure = {
      key: 'share.x',
      label: 'x',
      group: 'x',
      kind: 'proportion',
      unit: 'of 1',
      n: 40,
    } as const;
    const truth = inputOf([findingOf({ measures: [{ ...measure, estimate: 3 / 40, events: 3 }] })]);
    const shown = findingOf({ measures: [{ ...measure, estimate: 3 / 40, events: 'fewer than 5' }] });
    expect(found(truth, shown)).toEqual(['question/measure/share.x/events']);
  });

  it('from a rate and its time at risk', () => {
    const rate = { key: 'rate.x', label: 'x', group: 'x', kind: 'rate', unit: 'per 100 foot-weeks' } as const;
    const time = {
      key: 'time.x',
      label: 'x',
      group: 'x',
      kind: 'number',
      unit: 'foot-weeks',
      estimate: 240,
    } as const;
    const truth = inputOf([findingOf({ measures: [{ ...rate, estimate: 300 / 240, events: 3 }, time] })]);
    const shown = findingOf({ measures: [{ ...rate, estimate: 300 / 240, events: 'fewer than 5' }, time] });
    expect(found(truth, shown)).toEqual(['question/measure/rate.x/events']);
  });

  it('from the steps of a curve', () => {
    const curve = curveOf([0, 1, 20, 20], 100, [0]);
    const { steps: _, ...drawn } = curve;
    expect(found(inputOf([findingOf({ curves: [curve] })]), findingOf({ curves: [drawn] }))).toEqual([
      'question/curve/share.all: events between two moments that are told',
    ]);
  });

  it('from two ticks of a risk table', () => {
    const curve = curveOf([0, 20, 2, 20], 100, [0, 2, 3]);
    const { steps: _, ...rest } = curve;
    const drawn = { ...rest, time: [0], estimate: [0], lower: [undefined], upper: [undefined] };
    const leaks = found(inputOf([findingOf({ curves: [curve] })]), findingOf({ curves: [drawn] }));
    expect(leaks).toContain('question/curve/share.all/events between 1 and 2');
    expect(leaks).toContain('question/curve/share.all/atRisk between 1 and 2');
  });

  it('from two steps of the participant flow', () => {
    const line = (key: string, depth: number, feet: number) => ({
      key,
      label: key,
      depth,
      feet,
      infants: undefined,
    });
    const flow = [line('read', 0, 302), line('refused', 0, 2), line('accepted', 0, 300)];
    const truth = inputOf([], flow);
    const shown = {
      ...truth,
      flow: flow.map(one => (one.key === 'refused' ? { ...one, feet: 'fewer than 5' as const } : one)),
    };
    expect(attack([{ path: 'findings.json', text: findingsJson(shown) }], truth)).toEqual([
      'flow/refused/feet',
    ]);
    expect(attack([{ path: 'findings.json', text: findingsJson(protectFindings(truth)) }], truth)).toEqual(
      [],
    );
  });

  it('that another finding tells', () => {
    const first = findingOf({ key: 'first', tables: [tableOf({ feet: [3, 20, 30] })] });
    const truth = inputOf([first, findingOf({ key: 'second', measures: [countMeasure('feet', 3, 'g0')] })]);
    const shown = protectFindings(truth);
    expect(attack([{ path: 'findings.json', text: findingsJson(shown) }], truth)).toEqual([]);
    expect(attack([{ path: 'findings.json', text: findingsJson(truth) }], truth)).not.toEqual([]);
  });

  it.each([
    [
      'index.html',
      '<div class="table whole" id="t"><table><tr><td class="number">3</td></tr></table></div>',
      'index.html, t',
    ],
    ['index.html', '<p>It relapsed in 3/197 (2 %).</p>', 'index.html: ?/197'],
    ['index.html', '<svg><desc>Of 2 feet nothing is known.</desc></svg>', 'index.html: ? feet'],
    ['tables/participants.csv', 'key,feet\r\na,3\r\n', 'tables/participants.csv, column feet'],
    [
      'tables/x.csv',
      'key,height\r\na,0.123456789\r\n',
      'tables/x.csv: holds a number that the findings do not hold',
    ],
    [
      'figures/x.vl.json',
      '{"data":{"values":[{"time":2,"count":"3"}]}}',
      'figures/x.vl.json: a count under the axis',
    ],
    [
      'figures/x.vl.json',
      '{"data":{"values":[{"time":2.1234567}]}}',
      'figures/x.vl.json: holds a number that the findings do not hold',
    ],
  ])('in %s: %s', (path, text, leak) => {
    expect(found(inputOf([findingOf({})]), findingOf({}), [{ path, text }])).toEqual([leak]);
  });

  it('beside an earlier version of the report', () => {
    const truth = inputOf([findingOf({ tables: [tableOf({ feet: [3, 20, 30] })] })]);
    const table = truth.findings[0]?.tables[0];
    if (table === undefined) throw new Error('the table is missing');
    const hiding = (...columns: readonly string[]): FindingsInput => ({
      ...truth,
      findings: [
        findingOf({
          tables: [
            {
              ...table,
              rows: [
                { ...table.rows[0], ...Object.fromEntries(columns.map(column => [column, 'withheld'])) },
              ],
            },
          ],
        }),
      ],
    });
    const earlier = [{ name: 'version 1', findings: findingsDocument(hiding('g0', 'g2')) }];
    const files = [{ path: 'findings.json', text: findingsJson(hiding('g0', 'g1')) }];
    expect(attack(files, truth)).toEqual([]);
    expect(attack(files, truth, earlier)).toHaveLength(1);
    const beside = [{ path: 'findings.json', text: findingsJson(protectFindings(truth, earlier)) }];
    expect(attack(beside, truth, earlier)).toEqual([]);
  });
});

describe('what the attack found', () => {
  it('is named without the number', () => {
    const error = new DisclosureError(['a', 'b', 'c', 'd', 'e', 'f', 'g']);
    expect(error.message).toBe(
      'nothing published: small numbers could be worked out (a; b; c; d; e; and 2 more)',
    );
  });

  it('is nothing to rely on without the findings', () => {
    expect(attack([], inputOf([]))).toHaveLength(1);
  });
});
