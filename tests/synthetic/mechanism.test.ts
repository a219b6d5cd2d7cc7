import { describe, expect, it } from 'vitest';
import { expectedHours } from '../../src/synthetic/foot-day.ts';
import { scenarioSchema } from '../../src/synthetic/scenario.ts';
import { namedScenario } from '../../src/synthetic/scenarios/index.ts';
import { bilateralInfants, correlation, type Member, mean, median, members, thirds } from './cohort.ts';

// Tolerances: 3,000 infants with both feet; a share of a third of the feet (2,000, pairs alike) has a standard error
// under 0.015, so what is said to rise must rise by more than chance would give.
const ordinary = namedScenario('ordinary-clinic');
const infants = bilateralInfants(ordinary, 3000, 7);
const feet = members(infants);
const rising = (values: readonly number[], by: number) =>
  values.every((value, i) => i === 0 || value - (values[i - 1] ?? 0) > by);

const baseline = ({ foot }: Member) => foot.visits[0]?.findings;
const byStiffness = thirds(feet, m => m.foot.latent.stiffness);

describe('stiffness', () => {
  it('drives the three findings at first fitting, and the angle', () => {
    expect(
      rising(
        byStiffness.map(third => mean(third.map(m => baseline(m)?.position ?? 0))),
        0.2,
      ),
    ).toBe(true);
    expect(
      rising(
        byStiffness.map(third => mean(third.map(m => baseline(m)?.angle ?? 0))),
        2,
      ),
    ).toBe(true);
    const short = (m: Member) => Number(baseline(m)?.flexibility !== 'past straight');
    expect(
      rising(
        byStiffness.map(third => mean(third.map(short))),
        0.1,
      ),
    ).toBe(true);
    const crease = (m: Member) => Number(baseline(m)?.crease);
    expect(
      rising(
        byStiffness.map(third => mean(third.map(crease))),
        0.05,
      ),
    ).toBe(true);
  });

  it('slows correction an hour worn', () => {
    const days = byStiffness.map(third => median(third.map(m => m.foot.correctedDay ?? 400)));
    expect(rising(days, 5)).toBe(true);
  });

  it('is shared by the feet of an infant as the scenario says', () => {
    // 0.6 by the scenario; a little less since feet already straight are not fitted.
    const pairs = infants.map(
      i => [i.feet[0]?.latent.stiffness ?? 0, i.feet[1]?.latent.stiffness ?? 0] as const,
    );
    expect(correlation(pairs)).toBeGreaterThan(0.5);
    expect(correlation(pairs)).toBeLessThan(0.65);
    const days = infants.map(
      i => [Math.log(i.feet[0]?.correctedDay ?? 400), Math.log(i.feet[1]?.correctedDay ?? 400)] as const,
    );
    expect(correlation(days)).toBeGreaterThan(0.25);
  });
});

describe('hours worn to correction', () => {
  // Nothing but wear: no drift, nobody leaves, nobody is referred.
  const bare = scenarioSchema.parse({
    relapse: { dailyHazard: { longOvernight: 0, overnight: 0 } },
    referral: { stillSevere: 0, stillModerate: 0, stillMild: 0 },
    leaving: { withdrawnADay: 0, movedADay: 0, lostADay: 0 },
    cohort: { straightFitted: 0 },
    therapist: { longestDays: 1500 },
  });
  const scaled = members(bilateralInfants(bare, 2000, 3)).map(
    ({ foot }) => (foot.correctedHours ?? 1e6) / foot.latent.scale,
  );

  it('follow the Weibull distribution of the scenario, given stiffness, age and infant', () => {
    const { medianHours, shape } = bare.correction;
    for (const u of [400, 600, 750, 900, 1200]) {
      const expected = 1 - 2 ** -((u / medianHours) ** shape);
      // 4,000 feet: standard error up to 0.008; hours move in steps of a day, about 20 hours.
      expect(Math.abs(mean(scaled.map(h => Number(h <= u))) - expected)).toBeLessThan(0.04);
    }
    expect(Math.abs(median(scaled) / medianHours - 1)).toBeLessThan(0.04);
  });
});

describe('adherence', () => {
  const share = ({ foot }: Member) => {
    const end = foot.spells[1]?.startDay ?? foot.endDay ?? 0;
    return mean(foot.worn.slice(2, end).map(tenths => tenths / 10 / expectedHours(24)));
  };
  const settled = feet.filter(({ foot }) => (foot.endDay ?? 0) > 30);
  const byFamily = thirds(settled, m => m.course.infant.adherence);

  it('differs between families and is about 85 % of expected hours on the mean', () => {
    const shares = byFamily.map(third => mean(third.map(share)));
    expect(rising(shares, 0.04)).toBe(true);
    expect(Math.abs(mean(shares) - 0.85)).toBeLessThan(0.03);
  });

  it('hastens correction in days, not in hours worn', () => {
    const days = byFamily.map(third => -median(third.map(m => m.foot.correctedDay ?? 400)));
    expect(rising(days, 1)).toBe(true);
    const hours = byFamily.map(third => median(third.map(m => m.foot.correctedHours ?? 4000)));
    expect(Math.max(...hours) / Math.min(...hours)).toBeLessThan(1.08);
  });

  it('lapses and resumes: days without any wear come in runs that end', () => {
    const stopped = feet.filter(({ foot }) => foot.worn.slice(5, 40).some(tenths => tenths === 0));
    expect(stopped.length / feet.length).toBeGreaterThan(0.01);
    const resumed = stopped.filter(({ foot }) =>
      foot.worn.slice(foot.worn.indexOf(0, 5)).some(tenths => tenths > 100),
    );
    expect(resumed.length / stopped.length).toBeGreaterThan(0.7);
  });
});

describe('relapse', () => {
  const steps = feet.flatMap(member =>
    member.foot.stepDowns.map((step, i) => ({
      ...step,
      member,
      slipped: member.foot.onsets.some(o => o.stepDown === i && o.day <= step.day + 21),
      seen: member.foot.spells.some(s => s.startDay > step.day && s.hours > step.toHours && step.toHours > 0),
    })),
  );
  const first = steps.filter(step => step.fromHours === 24 && step.toHours === 15);
  const slipped = (list: typeof steps) => mean(list.map(step => Number(step.slipped)));

  it('comes more often the earlier the step-down', () => {
    const [late, middle, early] = thirds(first, step => step.earliness);
    expect(slipped(middle) - slipped(late)).toBeGreaterThan(0.005);
    expect(slipped(early) - slipped(late)).toBeGreaterThan(0.05);
  });

  it('comes more often with less wear', () => {
    const byFamily = thirds(first, step => -step.member.course.infant.adherence);
    expect(slipped(byFamily[2]) - slipped(byFamily[0])).toBeGreaterThan(0.03);
  });

  it('brings the foot back to full time more often than not', () => {
    const back = first.filter(step => step.slipped);
    const held = first.filter(step => !step.slipped);
    expect(mean(back.map(step => Number(step.seen)))).toBeGreaterThan(0.4);
    expect(mean(held.map(step => Number(step.seen)))).toBeLessThan(0.25);
  });
});

describe('families that leave', () => {
  const lost = (list: readonly Member[]) =>
    mean(list.map(m => Number(m.foot.endReason === 'lost to follow-up')));

  it('are lost more often the farther they live', () => {
    expect(rising(thirds(feet, m => m.course.infant.distance).map(lost), 0.005)).toBe(true);
  });

  it('in the scenario of informative drop-out, are lost after their foot has come far', () => {
    const far = (list: readonly Member[]) =>
      mean(
        list
          .filter(m => m.foot.endReason === 'lost to follow-up')
          .map(m => Number(m.foot.correctedDay !== undefined)),
      );
    const informative = members(bilateralInfants(namedScenario('informative-drop-out'), 1500, 7));
    expect(lost(informative)).toBeGreaterThan(0.12);
    expect(far(informative) - far(feet)).toBeGreaterThan(0.15);
  });
});

describe('skin events', () => {
  const rate = (from: (m: Member) => [number, number]) => {
    let events = 0;
    let days = 0;
    for (const member of feet) {
      const [start, end] = from(member);
      days += Math.max(0, end - start);
      events += member.foot.events.filter(e => e.day >= start && e.day < end).length;
    }
    return (700 * events) / days;
  };

  it('are fewer with fewer hours', () => {
    const spell =
      (hours: number) =>
      (m: Member): [number, number] => {
        const i = m.foot.spells.findIndex(s => s.hours === hours);
        const start = m.foot.spells[i]?.startDay ?? 0;
        return i < 0 ? [0, 0] : [start, m.foot.spells[i + 1]?.startDay ?? m.foot.endDay ?? start];
      };
    const [full, long, night] = [rate(spell(24)), rate(spell(15)), rate(spell(12))];
    expect(full / long).toBeGreaterThan(1.4);
    expect(long / night).toBeGreaterThan(1.1);
  });

  it('name a tight strap more often than straps are tight', () => {
    const skin = feet.flatMap(m => m.foot.events.filter(e => e.cause !== undefined));
    const tight = mean(skin.map(e => Number(e.cause === 'strap too tight')));
    expect(tight).toBeGreaterThan(0.08);
    expect(tight).toBeLessThan(0.35);
  });
});
