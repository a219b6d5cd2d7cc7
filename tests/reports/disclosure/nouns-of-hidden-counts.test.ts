import { describe, expect, it } from 'vitest';
import { attackTexts } from '../../../src/reports/disclosure/attack-texts.ts';
import { openSentences } from '../../../src/reports/disclosure/protect-words.ts';

const HIDDEN = {
  policy: { below: 5, atRisk: 5 },
  counts: new Set(['1', '2', '3', '4', '10']),
  percents: new Set<string>(),
  others: new Set<string>(),
  intervals: new Set<string>(),
};

describe('a small number in words', () => {
  it('has its noun in the plural, also where it is 1', () => {
    expect(openSentences('Left out of the adjusted models: sex not recorded, 1 foot.', HIDDEN)).toEqual([
      'Left out of the adjusted models: sex not recorded, fewer than 5 feet.',
    ]);
    expect(openSentences('There was 1 mild foot of 1 infant.', HIDDEN)).toEqual([
      'There was fewer than 5 mild feet of fewer than 5 infants.',
    ]);
  });

  it('is found by the attack where its noun tells it', () => {
    const page = (text: string) => [{ path: 'index.html', text: `<p>sex not recorded, ${text}</p>` }];
    expect(attackTexts(page('fewer than 5 foot'), '{}', HIDDEN.policy)).toEqual([
      'index.html: fewer than 5 foot',
    ]);
    expect(attackTexts(page('fewer than 5 feet'), '{}', HIDDEN.policy)).toEqual([]);
  });
});

describe('a list of what was left out', () => {
  it('says that others are withheld where it is not whole', () => {
    expect(
      openSentences(
        'Left out of the models: sex not recorded, 1 foot; crease not recorded, 10 feet.',
        HIDDEN,
      ),
    ).toEqual(['Left out of the models: sex not recorded, fewer than 5 feet; others withheld.']);
  });
});
