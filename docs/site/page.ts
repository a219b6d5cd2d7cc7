import { Marked } from 'marked';

/** A page of the site: a file name without its ending, a title, and its text in Markdown. */
export interface SitePage {
  readonly name: string;
  readonly title: string;
  readonly group: string;
  readonly markdown: string;
}

const STYLE = `
:root{color-scheme:light}
body{font:16px/1.55 system-ui,sans-serif;color:#1c2126;margin:0;display:grid;grid-template-columns:15rem minmax(0,1fr);max-width:76rem}
nav{padding:1.5rem 1rem;border-right:1px solid #d9dde1;font-size:.93rem}
nav h2{font-size:.8rem;margin:1.2rem 0 .3rem;color:#5a646d;font-weight:600}
nav ul{list-style:none;margin:0;padding:0} nav li{margin:.15rem 0}
main{padding:1.5rem 2rem 4rem;min-width:0}
h1,h2,h3{line-height:1.25} h2{margin-top:2.2rem} h3{margin-top:1.8rem}
a{color:#0b5cad} a[aria-current]{color:#1c2126;font-weight:600;text-decoration:none}
pre,code{font-family:ui-monospace,"DejaVu Sans Mono",monospace;font-size:.9em}
pre{background:#f4f5f6;padding:.8rem 1rem;overflow-x:auto} code{background:#f4f5f6;padding:0 .15em;overflow-wrap:break-word} pre code{padding:0}
p code,li code{overflow-wrap:anywhere}
.wide{overflow-x:auto} table{border-collapse:collapse;font-size:.93em} td:nth-child(2){min-width:9rem} th,td{border-bottom:1px solid #d9dde1;padding:.3rem .6rem;text-align:left;vertical-align:top}
.to-pages{display:none}
@media(max-width:50rem){body{display:flex;flex-direction:column}nav{order:2;border:0;border-top:1px solid #d9dde1}main{padding:1rem 1rem 3rem}.to-pages{display:block}}
@media print{nav{display:none}body{display:block}}`;

/** The whole site: file names and HTML. Pages link to each other as their sources do, by the name of the Markdown file. */
export function siteFiles(pages: readonly SitePage[]): { readonly path: string; readonly text: string }[] {
  const known = new Set(pages.map(({ name }) => name));
  return pages.map(page => ({ path: `${page.name}.html`, text: html(page, pages, known) }));
}

function html(page: SitePage, pages: readonly SitePage[], known: ReadonlySet<string>): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="data:,">
<title>${escaped(page.title)} · forefoot-outcomes</title>
<style>${STYLE}</style>
</head>
<body>
<nav id="pages" aria-label="Pages">${navigation(page, pages)}</nav>
<main>
<a class="to-pages" href="#pages">All pages</a>
${body(page.markdown, known)}</main>
</body>
</html>
`;
}

function navigation(current: SitePage, pages: readonly SitePage[]): string {
  const groups = [...new Set(pages.map(({ group }) => group))];
  return groups
    .map(group => {
      const items = pages
        .filter(page => page.group === group)
        .map(({ name, title }) => {
          const here = name === current.name ? ' aria-current="page"' : '';
          return `<li><a href="${name}.html"${here}>${escaped(title)}</a></li>`;
        });
      return `<h2>${escaped(group)}</h2><ul>${items.join('')}</ul>`;
    })
    .join('');
}

function body(markdown: string, known: ReadonlySet<string>): string {
  const seen = new Map<string, number>();
  const marked = new Marked({
    renderer: {
      heading({ tokens, depth, text }) {
        const slug = text
          .toLowerCase()
          .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
          .replaceAll(/^-|-$/g, '');
        const times = seen.get(slug) ?? 0;
        seen.set(slug, times + 1);
        const id = times === 0 ? slug : `${slug}-${times}`;
        return `<h${depth} id="${id}">${this.parser.parseInline(tokens)}</h${depth}>\n`;
      },
      link({ href, tokens }) {
        return `<a href="${escaped(siteAddress(href, known))}">${this.parser.parseInline(tokens)}</a>`;
      },
      codespan({ text }) {
        // A long dotted name, such as a field of the plan, may go on in the next line.
        return `<code>${escaped(text).replaceAll(/\.(?=[a-z])/g, '.<wbr>')}</code>`;
      },
      code({ text, lang }) {
        const language = lang?.split(' ')[0] ?? '';
        return `<pre tabindex="0"><code${language === '' ? '' : ` class="language-${escaped(language)}"`}>${escaped(text)}</code></pre>\n`;
      },
    },
  });
  const text = marked.parse(markdown, { async: false });
  return text
    .replaceAll('<table>', '<div class="wide" tabindex="0"><table>')
    .replaceAll('</table>', '</table></div>');
}

/** `definitions.md#time` as `definitions.html#time`; what the site does not have leads to the repository it was built in. */
function siteAddress(href: string, known: ReadonlySet<string>): string {
  if (/^(?:[a-z]+:|#)/.test(href)) return href;
  const [, name = '', anchor = ''] = /([\w-]+)\.md(#.*)?$/.exec(href) ?? [];
  if (known.has(name.toLowerCase())) return `${name.toLowerCase()}.html${anchor}`;
  if (/^[\w.-]+\.json$/.test(href)) return href;
  return `../../${href.startsWith('../') ? href.slice('../'.length) : href}`;
}

export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
