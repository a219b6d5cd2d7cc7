import { weekClasses } from '../../analyses/adherence/by-week.ts';
import type { Cell, Finding } from '../../analyses/finding.ts';
import { adherenceCalendar, type CalendarWeek } from '../../figures/index.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatCount, formatPercent } from '../../wording/format.ts';
import type { Block } from '../document.ts';

/** The calendar of adherence from the table by week; nothing where no week has enough feet. */
export function calendarBlock(finding: Finding, plan: Plan): readonly Block[] {
  const table = finding.tables.find(({ key }) => key === 'by-week');
  const classes = table?.columns.filter(({ key }) => key.startsWith('class')) ?? [];
  const minimumFeet = plan.figures.calendarMinimumFeet;
  const weeks = (table?.rows ?? []).flatMap((row): readonly CalendarWeek[] => {
    const { week, feet } = row;
    if (typeof week !== 'number' || typeof feet !== 'number') return [];
    return [{ week, feet, counts: classes.map(({ key }) => countOf(row[key])) }];
  });
  const told = weeks.filter(({ feet, counts }) => feet >= minimumFeet && counts.some(isCount));
  const [first] = told;
  const last = told.at(-1);
  if (classes.length === 0 || first === undefined || last === undefined) return [];
  const figure = adherenceCalendar(weeks, {
    key: `${finding.key}.calendar`,
    classes: classes.map(({ label }) => label),
    title: titleOf(first, last, plan),
    infants: finding.population.infants,
    minimumFeet,
  });
  return [
    {
      kind: 'figure',
      figure,
      caption: `Hours worn over hours expected in each week, mean of the days with data. Weeks with fewer than ${formatCount(minimumFeet)} feet have no shade.`,
    },
  ];
}

/** The share of feet under the threshold of a covered day, in the first and the last week that are told. */
function titleOf(first: CalendarWeek, last: CalendarWeek, plan: Plan): string {
  const { coveredAt } = plan.adherence;
  const classes = weekClasses(plan);
  const under = ({ counts, feet }: CalendarWeek): string | undefined => {
    let sum = 0;
    for (const [place, { from }] of classes.entries()) {
      const count = counts[place];
      if (from >= coveredAt) continue;
      if (count === undefined) return undefined;
      sum += count;
    }
    return formatPercent(sum / feet, feet);
  };
  const [start, end] = [under(first), under(last)];
  if (start === undefined || end === undefined || !classes.some(({ from }) => from === coveredAt)) {
    return 'How much of the hours expected was worn, week by week';
  }
  return `Less than ${formatPercent(coveredAt)} of the hours was worn in ${start} of feet in week ${formatCount(first.week)} and in ${end} in week ${formatCount(last.week)}`;
}

function countOf(cell: Cell): number | undefined {
  if (typeof cell !== 'object' || !('count' in cell)) return undefined;
  return typeof cell.count === 'number' ? cell.count : undefined;
}

function isCount(count: number | undefined): count is number {
  return count !== undefined;
}
