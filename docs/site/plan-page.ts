import { allowedAt } from '../../src/plan/allowed.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { planDocument } from '../../src/plan/plan-document.ts';

/**
 * Every field of the plan with what it may be, its default, and the paragraphs of the definitions that name it.
 *
 * @param definitions the page of definitions in Markdown
 */
export function planPage(definitions: string): string {
  const rows = fieldsOf(defaultPlan(), []).map(({ path, value }) => {
    const places = sectionsNaming(definitions, path);
    const links = places.map(({ title, slug }) => `[${title}](definitions.md#${slug})`).join(', ');
    return `| \`${path.join('.')}\` | ${allowedAt(path)} | \`${JSON.stringify(value).replaceAll('|', '\\|')}\` | ${links} |`;
  });
  return `# The plan

Every definition and threshold of the analyses. A \`plan.yaml\` needs to name only the fields that differ from the default. What each field does is told where it is defined.

| field | allowed | default | defined in |
| --- | --- | --- | --- |
${rows.join('\n')}

## All defaults, as a plan

\`\`\`yaml plan
${planDocument(defaultPlan()).trimEnd()}
\`\`\`
`;
}

function fieldsOf(value: unknown, path: readonly string[]): { path: readonly string[]; value: unknown }[] {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return [{ path, value }];
  return Object.entries(value).flatMap(([key, field]) => fieldsOf(field, [...path, key]));
}

/** The sections that name a field, or, if none does, the nearest group of fields that it belongs to. */
function sectionsNaming(definitions: string, path: readonly string[]): { title: string; slug: string }[] {
  const sections = definitions.split(/^## /m).slice(1);
  for (let length = path.length; length > 0; length--) {
    const name = path.slice(0, length).join('.');
    const found = sections.filter(section =>
      ['`', '.', ':'].some(after => section.includes(`\`${name}${after}`)),
    );
    if (found.length > 0) return found.map(placeOf);
  }
  return [];
}

function placeOf(section: string): { title: string; slug: string } {
  const title = section.slice(0, section.indexOf('\n')).trim();
  const slug = title
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-|-$/g, '');
  return { title, slug };
}
