/**
 * Rows of one stratum counted by distinct time, ascending, and group; the cell of time k and group g is k
 * times groups plus g.
 */
export interface GrayCounts {
  readonly times: number;
  /** Rows whose exit is at the time. */
  readonly leaving: Int32Array;
  /** Of these, with the cause. */
  readonly own: Int32Array;
  /** Of these, with another cause. */
  readonly other: Int32Array;
}

export interface GrayScore {
  /** For every group. */
  readonly score: Float64Array;
  /** Covariance of all scores but the last. */
  readonly covariance: readonly (readonly number[])[];
}

/** What happens at one time with an event, with estimates just before and just after it. */
interface Moment {
  readonly atRisk: Float64Array;
  readonly own: Float64Array;
  readonly other: Float64Array;
  /** Event-free survival by group, before and after. */
  readonly before: Float64Array;
  readonly after: Float64Array;
  /** Incidence of the cause by group, before. */
  readonly incidence: Float64Array;
  /** Pooled incidence of the cause under the hypothesis, before and after. */
  pooledBefore: number;
  pooledAfter: number;
  /** Events of the cause in all groups. */
  events: number;
  /** At risk over event-free survival just before, and its sum over groups. */
  readonly exposure: Float64Array;
  exposed: number;
}

/**
 * Score and covariance of Gray's test in one stratum.
 *
 * Write h_r = at risk / event-free survival just before t in group r, h its sum, w = (1 - pooled incidence
 * just before t)^rho. The pooled incidence grows by d / h, d the events of the cause. The risk set is R_r =
 * h_r (1 - incidence of r), and the score of group a grows by w (d_a - d R_a / sum of R).
 *
 * Covariance: with A_ar = w h_a ((a = r) - h_r / h) and C_ar(t) the sum up to t of A_ar d / (h (1 - pooled
 * incidence before)), an event in group r moves the score of a by
 *   A_ar + g (C_ar(end) - C_ar(t)), g = 1 - (1 - pooled) / S_r after t, if of the cause (g = 1 where S_r ends
 *   at 0); g (C_ar(t) - C_ar(end)), g = (1 - pooled) / S_r after t, if of another cause.
 * Products of these are summed with weights S_r d / (h at risk_r) (1 - (d - 1) / (h S_r - 1)) for the cause,
 * where the pooled estimate stands for the group's own, and S_r squared d_r / at risk_r squared (1 - (d_r -
 * 1) / (at risk_r - 1)) for others. The end value is needed first, so the times are gone through twice.
 *
 * Source: Gray, Ann Stat 1988;16:1141-1154, section 2 and appendix.
 */
export function grayScore(counts: GrayCounts, groups: number, rho: number): GrayScore {
  const last = groups - 1;
  const score = new Float64Array(groups);
  const end = new Float64Array(last * groups);
  forEachMoment(counts, groups, moment => {
    const weight = Math.max(0, 1 - moment.pooledBefore) ** rho;
    addScore(score, moment, weight);
    addDrift(end, moment, weight);
  });
  const drift = new Float64Array(last * groups);
  const covariance = new Float64Array(last * last);
  const effect = new Float64Array(last);
  forEachMoment(counts, groups, moment => {
    const weight = Math.max(0, 1 - moment.pooledBefore) ** rho;
    addDrift(drift, moment, weight);
    for (let r = 0; r < groups; r++) {
      const atRisk = moment.atRisk[r] as number;
      if (atRisk === 0) continue;
      const before = moment.before[r] as number;
      const after = moment.after[r] as number;
      if (moment.events > 0) {
        const g = after > 0 ? 1 - (1 - moment.pooledAfter) / after : 1;
        for (let a = 0; a < last; a++) {
          const at = a * groups + r;
          effect[a] = lever(moment, weight, a, r) + g * ((end[at] as number) - (drift[at] as number));
        }
        const ties = moment.events > 1 ? 1 - (moment.events - 1) / (moment.exposed * before - 1) : 1;
        addProducts(covariance, effect, (ties * before * moment.events) / (moment.exposed * atRisk));
      }
      const other = moment.other[r] as number;
      if (other > 0 && after > 0) {
        const g = (1 - moment.pooledAfter) / after;
        for (let a = 0; a < last; a++) {
          const at = a * groups + r;
          effect[a] = g * ((drift[at] as number) - (end[at] as number));
        }
        const ties = other > 1 ? 1 - (other - 1) / (atRisk - 1) : 1;
        addProducts(covariance, effect, ties * other * (before / atRisk) ** 2);
      }
    }
  });
  return {
    score,
    covariance: Array.from({ length: last }, (_, a) =>
      Array.from(covariance.subarray(a * last, (a + 1) * last)),
    ),
  };
}

function addScore(score: Float64Array, moment: Moment, weight: number): void {
  if (moment.events === 0) return;
  let total = 0;
  for (let r = 0; r < score.length; r++) {
    total += (moment.exposure[r] as number) * (1 - (moment.incidence[r] as number));
  }
  for (let r = 0; r < score.length; r++) {
    const share = ((moment.exposure[r] as number) * (1 - (moment.incidence[r] as number))) / total;
    score[r] = (score[r] as number) + weight * ((moment.own[r] as number) - moment.events * share);
  }
}

function lever(moment: Moment, weight: number, a: number, r: number): number {
  const share = (moment.exposure[r] as number) / moment.exposed;
  return weight * (moment.exposure[a] as number) * ((a === r ? 1 : 0) - share);
}

function addDrift(drift: Float64Array, moment: Moment, weight: number): void {
  if (moment.events === 0) return;
  const groups = moment.atRisk.length;
  // The pooled incidence is a moving average over groups and can in odd data reach 1 before the last event.
  const free = 1 - moment.pooledBefore;
  const step = free === 0 ? 0 : moment.events / (moment.exposed * free);
  for (let a = 0; a < groups - 1; a++) {
    for (let r = 0; r < groups; r++) {
      const at = a * groups + r;
      drift[at] = (drift[at] as number) + lever(moment, weight, a, r) * step;
    }
  }
}

function addProducts(covariance: Float64Array, effect: Float64Array, size: number): void {
  const last = effect.length;
  for (let a = 0; a < last; a++) {
    for (let b = 0; b < last; b++) {
      const at = a * last + b;
      covariance[at] = (covariance[at] as number) + size * (effect[a] as number) * (effect[b] as number);
    }
  }
}

/**
 * Visits the times with an event of any cause, in order. The moment is one object, refilled at each visit.
 */
function forEachMoment(counts: GrayCounts, groups: number, visit: (moment: Moment) => void): void {
  const moment: Moment = {
    atRisk: new Float64Array(groups),
    own: new Float64Array(groups),
    other: new Float64Array(groups),
    before: new Float64Array(groups).fill(1),
    after: new Float64Array(groups).fill(1),
    incidence: new Float64Array(groups),
    exposure: new Float64Array(groups),
    pooledBefore: 0,
    pooledAfter: 0,
    events: 0,
    exposed: 0,
  };
  for (let cell = 0; cell < counts.leaving.length; cell++) {
    const g = cell % groups;
    moment.atRisk[g] = (moment.atRisk[g] as number) + (counts.leaving[cell] as number);
  }
  for (let k = 0; k < counts.times; k++) {
    const first = k * groups;
    for (let g = 0; g < groups; g++) {
      moment.own[g] = counts.own[first + g] as number;
      moment.other[g] = counts.other[first + g] as number;
    }
    if (takeEvents(moment)) {
      visit(moment);
      settle(moment);
    }
    for (let g = 0; g < groups; g++) {
      moment.atRisk[g] = (moment.atRisk[g] as number) - (counts.leaving[first + g] as number);
    }
  }
}

/** Works out what follows from the events counted; false if there are none. */
function takeEvents(moment: Moment): boolean {
  moment.events = 0;
  moment.exposed = 0;
  let any = 0;
  for (let r = 0; r < moment.atRisk.length; r++) {
    const atRisk = moment.atRisk[r] as number;
    const all = (moment.own[r] as number) + (moment.other[r] as number);
    const before = moment.before[r] as number;
    any += all;
    moment.events += moment.own[r] as number;
    moment.exposure[r] = atRisk > 0 ? atRisk / before : 0;
    moment.exposed += moment.exposure[r] as number;
    moment.after[r] = atRisk > 0 ? (before * (atRisk - all)) / atRisk : before;
  }
  moment.pooledAfter = moment.pooledBefore + (moment.events > 0 ? moment.events / moment.exposed : 0);
  return any > 0;
}

/** The estimates after the time become those before the next. */
function settle(moment: Moment): void {
  for (let r = 0; r < moment.atRisk.length; r++) {
    const atRisk = moment.atRisk[r] as number;
    if (atRisk > 0) {
      const step = ((moment.before[r] as number) * (moment.own[r] as number)) / atRisk;
      moment.incidence[r] = (moment.incidence[r] as number) + step;
    }
    moment.before[r] = moment.after[r] as number;
  }
  moment.pooledBefore = moment.pooledAfter;
}
