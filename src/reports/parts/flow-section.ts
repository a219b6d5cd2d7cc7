import type { FlowStep } from '../../cohort/cohort.ts';
import type { Count } from '../../wording/hidden-count.ts';
import { formatCount, NOTHING } from '../../wording/format.ts';
import type { Section } from '../document.ts';

/** A line of the participant flow without the episodes behind it; infants are absent where only rows can be counted. */
export interface FlowLine {
  readonly key: string;
  readonly label: string;
  readonly depth: number;
  readonly feet: Count;
  readonly infants: Count | undefined;
}

/** The flow as it may be published: counts alone. */
export function flowLines(flow: readonly FlowStep[]): readonly FlowLine[] {
  return flow.map(step => ({
    key: step.key,
    label: step.label,
    depth: step.depth,
    feet: step.counted.feet,
    infants: step.rowsOnly ? undefined : step.counted.infants,
  }));
}

/** Who came in, who was left out and why (STROBE items 13a to 13c). */
export function flowSection(flow: readonly FlowLine[]): Section {
  return {
    key: 'participants',
    title: 'Who is in this report',
    blocks: [
      {
        kind: 'paragraph',
        text: [
          'The unit is the treated foot; one infant can bring two. Lines set in split the line above them',
          { kind: 'citation', keys: ['strobe-2007'] },
          '.',
        ],
      },
      {
        kind: 'table',
        key: 'participants',
        caption: 'Participant flow',
        columns: [
          { label: 'Step', align: 'left' },
          { label: 'Feet', align: 'right' },
          { label: 'Infants', align: 'right' },
        ],
        rows: flow.map(line => [
          { text: line.label, depth: line.depth },
          { text: formatCount(line.feet) },
          { text: line.infants === undefined ? NOTHING : formatCount(line.infants) },
        ]),
        notes: ['A refused row counts as a foot; its infant is not known, and stands as a dash.'],
      },
    ],
    sections: [],
  };
}
