import type { Plan } from '../../plan/plan.ts';
import { formatInterval, formatShare } from '../../wording/format.ts';
import { shareInWords } from '../tools/share-words.ts';
import { ANY, OTHER, type StepResult } from './step-results.ts';

/** Two sentences: the risk after each step, and how many relapses there were. */
export function relapseStatement(results: readonly StepResult[], plan: Plan): string {
  const overall = results.filter(result => result.band === 'all');
  const any = overall.find(result => result.step === ANY);
  if (any === undefined || any.atRisk.length === 0) {
    return 'No step-down was followed, so the risk of relapse cannot be given.';
  }
  const week = plan.relapse.reportWeeks.at(-1) ?? 0;
  const risks = overall.flatMap(result => {
    const risk = result.risks.at(-1)?.risk;
    return result.step === ANY || risk === undefined || 'state' in risk
      ? []
      : [`${shareInWords(risk)} after ${stepInWords(result.step)}`];
  });
  const rate = any.rate === undefined ? '' : `, ${formatInterval(any.rate, 'rate')} per 100 foot-weeks`;
  const count = `Of the step-downs followed, ${formatShare(any.relapsed.length, any.atRisk.length)} ended in relapse${rate}.`;
  return risks.length === 0
    ? count
    : `${count} Risk of relapse by week ${week} after a step-down: ${risks.join('; ')}.`;
}

function stepInWords(step: string): string {
  if (step === OTHER) return OTHER;
  const [from, to] = step.split(' to ');
  return to === 'none' ? `finishing from ${from ?? ''} hours` : `${from ?? ''} to ${to ?? ''} hours`;
}
