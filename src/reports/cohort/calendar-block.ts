import { weekClasses } from '../../analyses/adherence/by-week.ts';
import type { Cell, Finding, FindingTable } from '../../analyses/finding.ts';
import { adherenceCalendar, type CalendarWeek } from '../../figures/index.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatCount, formatPercent } from '../../wording/format.ts';
import { type Count, isHidden } from '../../wording/hidden-count.ts';
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
  const told = weeks.filter(
    ({ feet, counts }) => feet >= minimumFeet && counts.some(count => typeof count === 'number'),
  );
  const [first] = told;
  const last = told.at(-1);
  if (classes.length === 0 || first === undefined || last === undefined) return [];
  const figure = adherenceCalendar(weeks, {
    key: `${finding.key}.calendar`,
    classes: classes.map(({ label }) => label),
    title: titleOf(table?.rows ?? [], first, last, plan),
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
function titleOf(rows: FindingTable['rows'], first: CalendarWeek, last: CalendarWeek, plan: Plan): string {
  const { coveredAt } = plan.adherence;
  const classes = weekClasses(plan);
  const under = ({ counts, feet }: CalendarWeek): string | undefined => {
    let sum = 0;
    for (const [place, { from }] of classes.entries()) {
      const count = counts[place];
      if (from >= coveredAt) continue;
      if (typeof count !== 'number') return undefined;
      sum += count;
    }
    return formatPercent(sum / feet, feet);
  };
  const [start, end] = [under(first), under(last)];
  if (start === undefined || end === undefined || !classes.some(({ from }) => from === coveredAt)) {
    return medianTitle(rows, first.week, last.week);
  }
  return `Less than ${formatPercent(coveredAt)} of the hours was worn in ${start} of feet in week ${formatCount(first.week)} and in ${end} in week ${formatCount(last.week)}`;
}

/** What half of the feet wore, where the feet under the threshold are too few to tell. */
function medianTitle(rows: FindingTable['rows'], first: number, last: number): string {
  const at = (week: number): string | undefined => {
    const worn = rows.find(row => row.week === week)?.adherence;
    return typeof worn === 'object' && 'median' in worn ? formatPercent(worn.median) : undefined;
  };
  const [start, end] = [at(first), at(last)];
  return start === undefined || end === undefined
    ? 'How much of the hours expected was worn, week by week'
    : `Half of the feet wore ${start} or more of the hours expected in week ${formatCount(first)}, and ${end} or more in week ${formatCount(last)}`;
}

/** A hidden count stands in its cell as the words for it. */
function countOf(cell: Cell): Count | undefined {
  if (isHidden(cell)) return cell;
  if (typeof cell !== 'object' || !('count' in cell)) return undefined;
  return cell.count;
}
