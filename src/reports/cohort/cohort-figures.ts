import type { Finding } from '../../analyses/finding.ts';
import { occupancyFigure, swimmerFigure } from '../../figures/index.ts';
import { weekTicks } from '../../analyses/tools/week-ticks.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Block } from '../document.ts';
import { panelFigure } from '../parts/effect-figures.ts';
import { calendarBlock } from './calendar-block.ts';
import { datingBlock } from './dating-block.ts';
import { meanCountFigure } from '../parts/mean-count-figures.ts';

const BANDS = ['mild', 'moderate', 'severe'] as const;

/** Panels drawn as a forest, by the start of the keys of their lines; the others stand in tables. */
const FORESTS = ['cox.adjusted.', 'cox.correction.missing.adjusted.'] as const;

/** The figures of a question other than its curves: forests, mean numbers of events, phases. */
export function cohortFigures(finding: Finding, plan: Plan): readonly Block[] {
  const drawn = { lastWeek: plan.figures.lastWeek, level: plan.level, weekTicks: weekTicks(plan) };
  const effects = finding.effects ?? [];
  const unit = finding.key === 'relapse-after-step-down' ? 'step-downs' : 'feet';
  const panels = FORESTS.flatMap(prefix => [
    ...new Set(effects.filter(({ key }) => key.startsWith(prefix)).map(({ panel }) => panel)),
  ]);
  return [
    ...datingBlock(finding, plan),
    ...(finding.key === 'adherence' ? calendarBlock(finding, plan) : []),
    ...panels.flatMap(panel => panelFigure(finding, panel, plan.level, unit)),
    ...(finding.key === 'skin-safety'
      ? [
          ...meanCountFigure(finding, 'mean-count-damage', ['blister', 'pressure sore'], drawn),
          ...meanCountFigure(finding, 'mean-count-redness', ['slight redness', 'strong redness'], drawn),
        ]
      : meanCountFigure(finding, 'mean-count', BANDS, drawn)),
    ...occupancyFigures(finding, plan),
    ...swimmerFigures(finding, plan),
  ];
}

function occupancyFigures(finding: Finding, plan: Plan): readonly Block[] {
  const groups = (finding.occupancy ?? []).filter(({ week }) => week.length > 0);
  return groups.map(shares => ({
    kind: 'figure',
    figure: occupancyFigure(shares, {
      key: `${finding.key}.${shares.key}`,
      weekTicks: weekTicks(plan),
      titleWeek: plan.figures.weekTicks.at(-1) ?? 0,
    }),
    caption:
      'Longest hours at the bottom; left, at the top, means referred or withdrawn. Feet lost to follow-up count up to the day they were last in therapy.',
  }));
}

/** Single courses, where the finding tells any. */
function swimmerFigures({ key, courses }: Finding, plan: Plan): readonly Block[] {
  if (courses === undefined || courses.courses.length === 0) return [];
  const options = { key: `${key}.courses`, lastWeek: plan.figures.lastWeek, weekTicks: weekTicks(plan) };
  return [
    {
      kind: 'figure',
      figure: swimmerFigure(courses, options),
      caption:
        'A lane is the therapy of one foot. The feet were drawn by the seed of the plan and stand in the order of their length; they are examples and no summary.',
    },
  ];
}
