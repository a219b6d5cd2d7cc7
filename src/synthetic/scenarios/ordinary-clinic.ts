import type { ScenarioSettings } from './index.ts';

/** Three things that change over twelve quarters, for an audit to find. */
export const ORDINARY_CHANGES = [
  { what: 'teach-back', fromQuarter: 0, toQuarter: 11, atStart: -0.15, atEnd: 0.1 },
  {
    what: 'second checkup delay',
    site: 'kestrel-quay',
    fromQuarter: 5,
    toQuarter: 11,
    atStart: 1,
    atEnd: 13,
  },
  { what: 'skin events', fromQuarter: 9, toQuarter: 10, atStart: 1.5, atEnd: 2.2 },
] as const satisfies ScenarioSettings['changes'];

export const ORDINARY_CLINIC: ScenarioSettings = {
  name: 'ordinary-clinic',
  description:
    'Three sites over twelve quarters, with everything at its default. Teach-back improves, the second checkup comes later and later at one site, and skin events rise in the last quarters.',
  changes: [...ORDINARY_CHANGES],
};
