import { type LoggerInterface, parse, View } from 'vega';
import { compile, type TopLevelSpec } from 'vega-lite';
import { FIGURE_WIDTHS, type Figure, type FigureWidth } from './figure.ts';

/**
 * Draws a figure as an SVG document without a browser: the same text for the same figure. The root has the role of an
 * image, a title that states the finding and a description as its text alternative; ids are made unique by the key of
 * the figure and its width, so that several can stand in one page.
 */
export async function renderSvg(figure: Figure, width: FigureWidth): Promise<string> {
  const drawn = await draw(figure.specs[width]);
  const id = `figure-${figure.key.replace(/[^A-Za-z0-9_-]/g, '-')}-${width}`;
  const opened = /^<svg [^>]*viewBox="([^"]*)"[^>]*>/.exec(drawn);
  if (opened === null) throw new Error(`figure ${figure.key} was not drawn: no svg element came back`);
  const groups = figure.values?.columns.flatMap(column => column.group ?? []) ?? [];
  const body = withOwnIds(tidy(drawn.slice(opened[0].length), groups), id);
  const [, , , height] = (opened[1] ?? '').split(' ');
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="${id}-title" aria-describedby="${id}-text"`,
    ` width="${FIGURE_WIDTHS[width]}" height="${height ?? ''}" viewBox="${opened[1] ?? ''}">`,
    `<title id="${id}-title">${escapeXml(figure.title)}</title>`,
    `<desc id="${id}-text">${escapeXml(figure.description)}</desc>`,
    body,
  ].join('');
}

async function draw(spec: TopLevelSpec): Promise<string> {
  const logger = strictLogger();
  const compiled = compile(spec, { logger }).spec;
  const view = new View(parse(compiled), { renderer: 'none', logger });
  try {
    return await view.toSVG();
  } finally {
    view.finalize();
  }
}

/** A warning of the drawing library means that the figure is not what was asked for, so it is an error. */
function strictLogger(): LoggerInterface {
  const refuse = (...words: readonly unknown[]): never => {
    throw new Error(`the figure cannot be drawn as asked: ${words.map(String).join(' ')}`);
  };
  const logger: LoggerInterface = {
    level: (level?: number) => (level === undefined ? 2 : logger),
    error: refuse,
    warn: refuse,
    info: () => logger,
    debug: () => logger,
  };
  return logger;
}

/**
 * Inside an image no element has a role of its own; those the drawing library sets are taken away, and its numbers
 * rounded to a hundredth of a pixel, so that the last digit of a sum cannot change the file. What belongs to a group of
 * the figure is marked with its place among them, so that a page can show and hide it.
 */
function tidy(body: string, groups: readonly string[]): string {
  return body.replace(/<[A-Za-z][^>]*>/g, tag =>
    tag
      .replace(/ class="([^"]*)"/, (_, names: string) => groupMark(names, groups))
      .replace(/ (?:role|aria-[a-z]+)="[^"]*"/g, '')
      .replace(/-?\d+\.\d{3,}(?:e-?\d+)?/g, number => String(Number(Number(number).toFixed(2)) + 0)),
  );
}

/** The drawing library turns the name of a layer into the name of a class, with `_` for all but letters and digits. */
function groupMark(classNames: string, groups: readonly string[]): string {
  const named = /(?:^| )(?:band|curve|leader|label)_of_(\w+?)(?:__part_\d+)?_marks$/.exec(classNames)?.[1];
  const place = groups.findIndex(group => group.replace(/\W/g, '_') === named);
  return place < 0 ? '' : ` data-group="${place}"`;
}

/** Numbers the ids in their order and points every reference at them. */
function withOwnIds(body: string, prefix: string): string {
  const names = new Map<string, string>();
  for (const [, id] of body.matchAll(/ id="([^"]+)"/g)) {
    if (id !== undefined && !names.has(id)) names.set(id, `${prefix}-${names.size + 1}`);
  }
  return body.replace(
    / id="([^"]+)"|url\(#([^)]+)\)/g,
    (whole, id: string | undefined, reference: string | undefined) => {
      if (id !== undefined) return ` id="${names.get(id) ?? id}"`;
      return reference === undefined ? whole : `url(#${names.get(reference) ?? reference})`;
    },
  );
}

/** Escapes text for XML, and drops the characters that XML 1.0 cannot hold. */
function escapeXml(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, '\uFFFD')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
