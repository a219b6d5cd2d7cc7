import type { Finding } from '../../analyses/finding.ts';
import { formatLevel } from '../../wording/format.ts';
import { disclosureMethods } from '../disclosure/words.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Inline, Section, Text } from '../document.ts';

/** What was done, for the whole report and for each question, with the works it rests on. */
export function methodsSection(findings: readonly Finding[], plan: Plan): Section {
  return {
    key: 'methods',
    title: 'Methods',
    blocks: [{ kind: 'list', ordered: false, items: generalMethods(plan) }],
    sections: questionMethods(findings),
  };
}

/** What was done for each question, with the works it rests on. */
export function questionMethods(findings: readonly Finding[]): readonly Section[] {
  return findings
    .filter(finding => finding.methods.length > 0)
    .map(finding => ({
      key: `methods.${finding.key}`,
      title: finding.question,
      blocks: [
        {
          kind: 'list',
          ordered: false,
          items: finding.methods.map(method => cited(method.text, method.cites)),
        },
      ],
      sections: [],
    }));
}

function generalMethods(plan: Plan): readonly Text[] {
  const level = formatLevel(plan.level);
  return [
    plan.clustering.byInfant
      ? `Intervals are ${level} intervals; standard errors allow for the two feet of one infant being alike, unless a method says otherwise.`
      : `Intervals are ${level} intervals; the plan treats the two feet of one infant as independent.`,
    'Dates are calendar dates. Durations are whole days, printed as weeks of seven days.',
    ...disclosureMethods(plan),
    'A missing value is never taken for zero. Each question says how many feet it could not use, and why.',
    cited(
      'Figures of time to an event carry pointwise intervals and, under the axis, those at risk, events, other ends and censored',
      ['kmunicate-2019'],
    ),
    cited('Curves go up where the event is the wanted one; ends that rule the event out are not censored', [
      'austin-2016',
    ]),
    cited('Numbers are written as the guidelines for statistics in medical articles ask', ['sampl-2015']),
    cited('The report follows the statements for observational studies and routinely collected data', [
      'strobe-2007',
      'record-2015',
    ]),
    cited('Colours are told apart with the common deficiencies of colour vision', ['okabe-ito-2008']),
  ];
}

function cited(text: string, keys: readonly string[]): readonly Inline[] {
  const body = text.replace(/\.$/, '');
  return keys.length === 0 ? [`${body}.`] : [body, { kind: 'citation', keys }, '.'];
}
