import { codedLabels, eventColumn, refuseUnread } from '../columns.ts';
import { entryColumn, followUpColumn, weightColumn } from '../follow-up-columns.ts';

/** Follow-up of rows, each from its entry (or the origin) to its exit. */
export interface FollowUpData {
  /** Exit: time of the event or of censoring, 0 or later. */
  readonly time: ArrayLike<number>;
  /** 1 or true: the event happened at `time`; 0 or false: censored there. */
  readonly event: ArrayLike<number | boolean>;
  /** Late entry: at risk only after this time. */
  readonly entry?: ArrayLike<number> | undefined;
  /** Weight of each row; a whole number stands for that many equal rows. */
  readonly weight?: ArrayLike<number> | undefined;
  /**
   * Label of the cluster a row belongs to, for a standard error that allows for dependence within clusters.
   */
  readonly cluster?: ArrayLike<string | number> | undefined;
}

/** Checked follow-up in typed arrays. */
export interface FollowUp {
  readonly time: Float64Array;
  readonly event: Uint8Array;
  readonly entry?: Float64Array | undefined;
  readonly weight?: Float64Array | undefined;
  readonly cluster?: Int32Array | undefined;
  /** How many clusters there are; each row its own if `cluster` is absent. */
  readonly clusters: number;
}

export function checkedFollowUp(data: FollowUpData): FollowUp {
  refuseUnread(data, ['entry', 'weight', 'cluster']);
  const time = followUpColumn('time', data.time);
  const n = time.length;
  const cluster = data.cluster && codedLabels('cluster', data.cluster, n);
  return {
    time,
    event: eventColumn('event', data.event, n),
    entry: data.entry && entryColumn('entry', data.entry, time),
    weight: data.weight && weightColumn('weight', data.weight, n),
    cluster: cluster?.codes,
    clusters: cluster?.labels.length ?? n,
  };
}

/** The rows of each group as follow-up of its own; rows keep their order. Clusters keep their codes. */
export function splitFollowUp(all: FollowUp, codes: Int32Array, groups: number): FollowUp[] {
  const n = codes.length;
  const size = new Int32Array(groups);
  for (let i = 0; i < n; i++) {
    const g = codes[i] as number;
    size[g] = (size[g] as number) + 1;
  }
  const parts = Array.from(size, rows => ({
    time: new Float64Array(rows),
    event: new Uint8Array(rows),
    entry: all.entry && new Float64Array(rows),
    weight: all.weight && new Float64Array(rows),
    cluster: all.cluster && new Int32Array(rows),
    clusters: all.cluster ? all.clusters : rows,
  }));
  const { entry, weight, cluster } = all;
  const next = new Int32Array(groups);
  for (let i = 0; i < n; i++) {
    const g = codes[i] as number;
    const part = parts[g];
    if (part === undefined) continue;
    const at = next[g] as number;
    next[g] = at + 1;
    part.time[at] = all.time[i] as number;
    part.event[at] = all.event[i] as number;
    if (entry && part.entry) part.entry[at] = entry[i] as number;
    if (weight && part.weight) part.weight[at] = weight[i] as number;
    if (cluster && part.cluster) part.cluster[at] = cluster[i] as number;
  }
  return parts;
}

/** Whether all rows are of one cluster, so that nothing is known of how clusters differ. */
export function isOneCluster({ cluster }: FollowUp): boolean {
  return cluster?.every(code => code === cluster[0]) ?? false;
}

/** Whether any weight is not a whole number, so that it cannot stand for repeated rows. */
export function hasFractionalWeights(weight: Float64Array | undefined): boolean {
  return weight?.some(w => w !== Math.floor(w)) ?? false;
}
