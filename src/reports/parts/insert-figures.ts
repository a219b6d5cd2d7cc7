import type { Block, Section } from '../document.ts';

/** The section with figures after its answer and before its first table or note. */
export function withFigures(section: Section, figures: readonly Block[]): Section {
  const place = section.blocks.findIndex(({ kind }) => kind === 'table' || kind === 'note');
  const at = place < 0 ? section.blocks.length : place;
  return { ...section, blocks: [...section.blocks.slice(0, at), ...figures, ...section.blocks.slice(at)] };
}
