import type { ReportingItem } from './reporting-items.ts';

/** Keys of the sections that answer, by what they do in the report. */
export interface AnsweringSections {
  /** The sections with the answers, the main one first. */
  readonly answers: readonly string[];
  /** Those that ask what would change the answers. */
  readonly checks: readonly string[];
}

/** The items that a cohort study from routine records has to meet (STROBE, and RECORD where it asks for more). */
export function observationalItems({ answers, checks }: AnsweringSections): readonly ReportingItem[] {
  const strobe = (
    item: string,
    asks: string,
    sections: readonly string[],
    toAdd?: string,
  ): ReportingItem => ({
    guideline: 'STROBE',
    item,
    asks,
    sections,
    ...(toAdd === undefined ? {} : { toAdd }),
  });
  const record = (
    item: string,
    asks: string,
    sections: readonly string[],
    toAdd?: string,
  ): ReportingItem => ({
    ...strobe(item, asks, sections, toAdd),
    guideline: 'RECORD',
  });
  return [
    strobe('1', 'Title and a summary of what was done and found', ['in-brief']),
    strobe('2', 'Background and reasons', []),
    strobe('3', 'Questions, with what was expected beforehand', answers, 'hypotheses for the authors to add'),
    strobe('4', 'Design', ['methods']),
    strobe('5', 'Setting, places and dates', ['in-brief', 'provenance'], 'setting for the authors to add'),
    strobe('6', 'Who was eligible and how they were followed', ['participants', 'plan']),
    strobe('7', 'Definitions of outcomes, exposures and confounders', ['plan', 'methods']),
    strobe('8', 'Sources of data and how things were measured', ['provenance', 'methods']),
    strobe('9', 'Sources of bias', ['limitations']),
    strobe('10', 'How the size of the study came about', ['participants', 'duration-next-study']),
    strobe('11', 'How numbers were grouped', ['plan']),
    strobe('12', 'Statistical methods, missing data, sensitivity', ['methods', ...checks]),
    strobe('13', 'Participants at each stage, and why some were left out', ['participants']),
    strobe('14', 'Description, missing values and follow-up', ['baseline', ...answers.slice(0, 1)]),
    strobe('15', 'Numbers of outcomes over time', answers),
    strobe('16', 'Estimates, crude and adjusted, with intervals', answers),
    strobe('17', 'Other analyses', checks),
    strobe('18', 'Main results', ['in-brief']),
    strobe('19', 'Limitations', ['limitations', ...answers.slice(0, 1)]),
    strobe('20', 'Interpretation', ['limitations'], 'comparison with other studies for the authors to add'),
    strobe('21', 'Whether the results hold elsewhere', []),
    strobe('22', 'Funding', []),
    record('1', 'Kind of data, place and period, in the title or summary', ['in-brief']),
    record('6', 'How records were selected, and whether the selection was validated', ['participants']),
    record('7', 'Every code and rule that makes a variable', ['plan']),
    record('12', 'Access to data, cleaning and linkage', ['data-problems', 'provenance']),
    record('13', 'Selection of persons by quality and availability of data', [
      'participants',
      'data-problems',
    ]),
    record('19', 'What it means that the data were not made for research', ['limitations']),
    record('22', 'Where protocol, data and program can be had', ['provenance', 'plan']),
  ];
}
