import type { TopLevelSpec } from 'vega-lite';
import type { Curve } from '../analyses/finding.ts';
import type { CurveLayout } from './curve-layout.ts';
import { formatCountInFigure } from '../wording/format.ts';
import { lastFollowUp } from './curve-reading.ts';
import { capital } from './curve-words.ts';
import { INK, lineMarks, QUIET_INK, WHOLE_MARK } from './palette.ts';
import { placeLabels } from './place-labels.ts';

export type Layer = Extract<TopLevelSpec, { readonly layer: unknown }>['layer'][number];

/** A place between two ticks of a step curve, as drawn. */
interface StepRow {
  readonly time: number;
  readonly estimate: number;
}

interface BandRow {
  readonly time: number;
  readonly lower: number;
  readonly upper: number;
}

/** The pointwise bands, each a stepped area that reaches to the last follow-up of its group. */
export function bandLayers(curves: readonly Curve[]): readonly Layer[] {
  const marks = lineMarks(curves.map(curve => curve.group));
  return curves.flatMap((curve, i) =>
    bandRuns(curve).map(
      (values, run): Layer => ({
        name: run === 0 ? `band of ${curve.group}` : `band of ${curve.group}, part ${run + 1}`,
        data: { values: [...values] },
        mark: {
          type: 'area',
          interpolate: 'step-after',
          color: (marks[i] ?? WHOLE_MARK).colour,
          opacity: 0.14,
        },
        encoding: {
          x: { field: 'time', type: 'quantitative' },
          y: { field: 'lower', type: 'quantitative' },
          y2: { field: 'upper' },
        },
      }),
    ),
  );
}

export function lineLayers(curves: readonly Curve[]): readonly Layer[] {
  const marks = lineMarks(curves.map(curve => curve.group));
  return curves.map((curve, i): Layer => {
    const mark = marks[i] ?? WHOLE_MARK;
    return {
      name: `curve of ${curve.group}`,
      data: { values: [...stepRows(curve)] },
      mark: {
        type: 'line',
        interpolate: 'step-after',
        color: mark.colour,
        strokeWidth: mark.width,
        strokeCap: 'butt',
        strokeJoin: 'miter',
        ...(mark.dash.length > 0 ? { strokeDash: [...mark.dash] } : {}),
      },
      encoding: {
        x: { field: 'time', type: 'quantitative' },
        y: { field: 'estimate', type: 'quantitative' },
      },
    };
  });
}

/** The name of each group at the right of the plot, at the height where its curve ends, moved apart where they would touch. */
export function labelLayers(curves: readonly Curve[], layout: CurveLayout): readonly Layer[] {
  const marks = lineMarks(curves.map(curve => curve.group));
  const ends = curves.map(curve => {
    const height = curve.estimate[curve.estimate.length - 1] ?? (curve.direction === 'climbs' ? 0 : 1);
    return {
      x: (lastFollowUp(curve) / layout.xDomain[1]) * layout.plotWidth,
      y: layout.plotHeight * (1 - height / layout.yMaximum),
    };
  });
  const half = layout.labelGap / 2;
  const places = placeLabels(
    ends.map(end => end.y),
    layout.labelGap,
    half,
    layout.plotHeight - half,
  );
  return curves.flatMap((curve, i): Layer[] => {
    const mark = marks[i] ?? WHOLE_MARK;
    const end = ends[i] ?? { x: 0, y: 0 };
    const place = places[i] ?? 0;
    const leader: Layer = {
      name: `leader of ${curve.group}`,
      data: { values: [{}] },
      mark: { type: 'rule', color: mark.colour, strokeWidth: 0.75 },
      encoding: {
        x: { value: end.x },
        y: { value: end.y },
        x2: { value: layout.plotWidth + 8 },
        y2: { value: place },
      },
    };
    const label: Layer = {
      name: `label of ${curve.group}`,
      data: { values: [{ label: capital(curve.group) }] },
      mark: {
        type: 'text',
        align: 'left',
        baseline: 'middle',
        color: mark.text,
        fontSize: layout.textSize,
        fontWeight: 'bold',
      },
      encoding: {
        x: { value: layout.plotWidth + 11 },
        y: { value: place },
        text: { field: 'label', type: 'nominal' },
      },
    };
    return [leader, label];
  });
}

/** Sizes, then for each group a heading with a piece of its line, and its rows on the scale of the axis above. */
export function riskTableLayers(curves: readonly Curve[], layout: CurveLayout): readonly Layer[] {
  const marks = lineMarks(curves.map(curve => curve.group));
  const sizes = layout.sizeLines.map((line, i) =>
    plainText(line, -layout.padding.left + 4, layout.sizeTop + i * layout.lineHeight, layout.textSize, {
      color: QUIET_INK,
    }),
  );
  const groups = curves.flatMap((curve, i): Layer[] => {
    const mark = marks[i] ?? WHOLE_MARK;
    const heading = layout.headings[i]?.y ?? 0;
    const sample: Layer = {
      name: `sample of ${curve.group}`,
      data: { values: [{}] },
      mark: {
        type: 'rule',
        color: mark.colour,
        strokeWidth: mark.width,
        ...(mark.dash.length > 0 ? { strokeDash: [...mark.dash] } : {}),
      },
      encoding: {
        x: { value: -layout.padding.left + 4 },
        x2: { value: -layout.padding.left + 32 },
        y: { value: heading - 4 },
      },
    };
    const name = plainText(capital(curve.group), -layout.padding.left + 38, heading, layout.textSize, {
      color: mark.text,
      fontWeight: 'bold',
    });
    const rows = layout.rows
      .filter(row => row.group === curve.group)
      .flatMap((row): Layer[] => [
        plainText(row.label, -20, row.y, layout.textSize, { align: 'right' }),
        {
          name: `${row.label} of ${curve.group}`,
          data: {
            values: curve.riskTable.time.flatMap((time, k) =>
              layout.xTicks.includes(time)
                ? [{ time, count: formatCountInFigure(curve.riskTable[row.kind][k] ?? 0) }]
                : [],
            ),
          },
          mark: {
            type: 'text',
            align: 'center',
            baseline: 'alphabetic',
            color: INK,
            fontSize: layout.textSize,
          },
          encoding: {
            x: { field: 'time', type: 'quantitative' },
            y: { value: row.y },
            text: { field: 'count', type: 'nominal' },
          },
        },
      ]);
    return [sample, name, ...rows];
  });
  return [...sizes, ...groups];
}

function plainText(
  text: string,
  x: number,
  y: number,
  size: number,
  look: { readonly color?: string; readonly fontWeight?: 'bold'; readonly align?: 'left' | 'right' },
): Layer {
  return {
    data: { values: [{ text }] },
    mark: { type: 'text', align: 'left', baseline: 'alphabetic', color: INK, fontSize: size, ...look },
    encoding: { x: { value: x }, y: { value: y }, text: { field: 'text', type: 'nominal' } },
  };
}

function stepRows(curve: Curve): readonly StepRow[] {
  const rows = curve.time.map((time, i) => ({ time, estimate: curve.estimate[i] ?? 0 }));
  if ((curve.time[0] ?? 1) > 0) rows.unshift({ time: 0, estimate: curve.direction === 'climbs' ? 0 : 1 });
  return rows;
}

/** The stretches over which both limits exist; each runs on, level, to the time where the next row takes over. */
function bandRuns(curve: Curve): readonly (readonly BandRow[])[] {
  const runs: BandRow[][] = [];
  let run: BandRow[] = [];
  for (const [i, time] of curve.time.entries()) {
    const lower = curve.lower[i];
    const upper = curve.upper[i];
    if (lower !== undefined && upper !== undefined) run.push({ time, lower, upper });
    else {
      const last = run[run.length - 1];
      if (last !== undefined) {
        runs.push([...run, { ...last, time }]);
        run = [];
      }
    }
  }
  if (run.length > 0) runs.push(run);
  return runs;
}
