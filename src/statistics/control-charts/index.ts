export type { ChartOptions, ChartPoint, ControlChart } from './chart.ts';
export {
  type CumulativeSum,
  type CumulativeSumPoint,
  type CumulativeSumSignal,
  cumulativeSum,
  type LogLikelihoodOptions,
  type TabularOptions,
} from './cumulative-sum.ts';
export {
  type Funnel,
  type FunnelData,
  type FunnelOptions,
  type FunnelPoint,
  type FunnelSignal,
  funnelLimits,
  funnelLimitsAt,
  type Limits,
} from './funnel-limits.ts';
export { type IndividualsChart, individualsChart } from './individuals-chart.ts';
export { type ProportionChartData, proportionChart } from './proportion-chart.ts';
export { type RateChartData, rateChart } from './rate-chart.ts';
export { type RunChart, type RunChartOptions, type RunChartSignal, runChart } from './run-chart.ts';
export { findSignals, type RuleSet, type Signal } from './signal-rules.ts';
