import type { Section } from '../document.ts';

interface Term {
  readonly term: string;
  readonly description: string;
}

/** Words that parents ask about, and what to say. */
const FOR_PARENTS: readonly Term[] = [
  {
    term: 'Severity band',
    description:
      'How far the front of the foot turns in before treatment, and how easily it can be moved: mild, moderate or severe. It describes the foot on the first day, not the child’s future.',
  },
  {
    term: 'Correction',
    description:
      'The foot was seen to be straight at a checkup. It may have become straight some time before that day, since nobody looked in between.',
  },
  {
    term: 'Step-down',
    description: 'The therapist asks for fewer hours a day in the brace, because the foot is doing well.',
  },
  {
    term: 'Relapse',
    description:
      'The foot turns in again after fewer hours were agreed. It is nobody’s fault, and the answer is often more hours again for a while.',
  },
  {
    term: 'Keeping to the hours',
    description:
      'How many of the agreed hours the brace was worn, as written down by the family or by a sensor. Days that nobody wrote down are not counted as days without the brace.',
  },
  {
    term: 'Red mark, blister, sore',
    description:
      'Signs of pressure on the skin. A mark that stays, a blister, a sore, pain or a change of colour needs the clinic, not a wait for the next checkup.',
  },
];

/** Words of the statistics in which the answers are given. */
const OF_STATISTICS: readonly Term[] = [
  {
    term: 'Interval (lower to upper)',
    description:
      'How far off the number could be by the luck of who happened to come. A wide interval means: not known well.',
  },
  {
    term: 'Median',
    description: 'Half of the feet took less time than this, half took longer, or are not there yet.',
  },
  {
    term: 'Still followed, censored',
    description:
      'Feet of which the end is not known yet. They count for as long as they were seen, and are not taken for failures.',
  },
  {
    term: 'Other end',
    description:
      'Therapy ended in another way, such as by a referral, so that the event asked about could no longer be seen.',
  },
];

const OF_MODELS: readonly Term[] = [
  {
    term: 'Time ratio',
    description:
      'How many times as long one group takes as another. Over one: longer. Around one: no difference can be told.',
  },
  {
    term: 'Hazard ratio',
    description:
      'How much more readily feet of one group reach the end on any one day, among those that have not reached it. Under one: they get there more slowly.',
  },
  {
    term: 'Adjusted',
    description:
      'Compared among feet that are alike in age, sex and the other features named. It cannot make up for what was not recorded.',
  },
];

/** The glossary of a report, for those who have to explain it to parents. */
export function glossarySection({ models }: { readonly models: boolean }): Section {
  return {
    key: 'glossary',
    title: 'Words, for parents’ questions',
    blocks: [
      { kind: 'definitions', items: [...FOR_PARENTS, ...OF_STATISTICS, ...(models ? OF_MODELS : [])] },
    ],
    sections: [],
  };
}
