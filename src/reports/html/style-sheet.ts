/**
 * The style of the HTML report: one column, rules instead of boxes, dark on white. It stands in the page itself, and
 * the content security policy allows it by its hash alone.
 */
export const STYLE_SHEET = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
html { font-size: 100%; -webkit-text-size-adjust: 100%; }
body {
  margin: 0; padding: 0 1.25rem 4rem; background: #fff; color: #1a1a1a;
  font: 1.0625rem/1.55 system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", "DejaVu Sans", sans-serif;
  overflow-wrap: break-word;
}
header, nav, main, footer { max-width: 42.5rem; margin: 0 auto; }
h1, h2, h3 { line-height: 1.25; font-weight: 650; text-wrap: balance; break-after: avoid; }
h1 { font-size: 1.9rem; margin: 2.5rem 0 0.25rem; }
h2 { font-size: 1.35rem; margin: 3rem 0 0.75rem; padding-top: 0.9rem; border-top: 1px solid #1a1a1a; }
h3 { font-size: 1.1rem; margin: 2rem 0 0.5rem; }
p, ul, ol, dl { margin: 0 0 0.9rem; }
ul, ol { padding-left: 1.4rem; }
li { margin-bottom: 0.3rem; }
a { color: #005c91; text-underline-offset: 0.15em; }
a:focus-visible, [tabindex]:focus-visible { outline: 3px solid #005c91; outline-offset: 2px; }
code { font: 0.9em/1.4 ui-monospace, "DejaVu Sans Mono", monospace; overflow-wrap: anywhere; }
.subtitle { font-size: 1.1rem; color: #404040; }
.skip { position: absolute; left: 1rem; top: -4rem; padding: 0.5rem 0.75rem; background: #fff; border: 2px solid #005c91; }
.skip:focus { top: 0.5rem; }
.caution { margin: 1.5rem 0; padding: 1rem 1.25rem 0.5rem; border: 2px solid #1a1a1a; }
.caution h2 { margin: 0 0 0.5rem; padding: 0; border: 0; font-size: 1.1rem; }
.contents { margin-top: 1.75rem; margin-bottom: 0; }
.contents h2 { margin: 0 0 0.4rem; padding: 0; border: 0; font-size: 1rem; }
.contents ul { columns: 2; column-gap: 2rem; list-style: none; padding: 0; }
.contents li { break-inside: avoid; }
.statement { font-size: 1.15rem; font-weight: 600; }
.note, .table-notes, figcaption { font-size: 0.92rem; color: #404040; }
sup { line-height: 0; font-size: 0.72em; }
figure { margin: 1.5rem 0 1.75rem; break-inside: avoid; }
figure svg { display: block; max-width: 100%; height: auto; }
figcaption { margin-top: 0.5rem; }
.drawn-narrow { display: none; }
.drawn { position: relative; }
.reading { display: flex; flex-wrap: wrap; align-items: center; gap: 0.25rem 1.5rem; margin-top: 0.5rem; font-size: 0.92rem; }
.reading-groups { display: flex; flex-wrap: wrap; align-items: center; gap: 0 1rem; min-width: 0; margin: 0; padding: 0; border: 0; }
.reading-groups legend { float: left; padding: 0; font-weight: 600; margin-right: 1rem; }
.reading-groups label { display: inline-flex; align-items: center; gap: 0.35rem; min-height: 1.75rem; }
.reading-groups input { width: 1.1rem; height: 1.1rem; margin: 0; accent-color: #005c91; }
.reading-slider { display: flex; flex-wrap: wrap; align-items: center; gap: 0 0.75rem; flex: 1 1 20rem; min-height: 1.75rem; }
.reading-slider input { flex: 1 1 10rem; min-width: 0; height: 1.5rem; margin: 0; accent-color: #005c91; }
input:focus-visible, summary:focus-visible { outline: 3px solid #005c91; outline-offset: 2px; }
.reading-line { stroke: #1a1a1a; stroke-width: 1; pointer-events: none; }
.reading-box {
  position: absolute; width: max-content; padding: 0.3rem 0.5rem; border: 1px solid #1a1a1a; background: #fff;
  font-size: 0.82rem; line-height: 1.4; pointer-events: none; font-variant-numeric: tabular-nums lining-nums;
}
.reading-box[hidden] { display: none; }
.reading-box div:first-child { font-weight: 600; }
.values { margin-top: 0.4rem; }
.values summary { padding: 0.2rem 0; font-size: 0.92rem; cursor: pointer; }
.values .table-scroll { max-height: 24rem; overflow: auto; margin-top: 0.4rem; }
.values table { width: auto; min-width: 60%; }
.values td, .values th { text-align: right; white-space: nowrap; padding-top: 0.15rem; padding-bottom: 0.15rem; }
.values thead th { white-space: normal; }
.values th:first-child { text-align: left; }
.table { margin: 1.25rem 0 1.75rem; }
.table-scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-size: 0.92rem; line-height: 1.4; font-variant-numeric: tabular-nums lining-nums; }
caption { text-align: left; padding: 0; }
.caption { display: block; position: sticky; left: 0; max-width: calc(100vw - 2.5rem); padding-bottom: 0.45rem; font-weight: 600; }
thead { border-top: 1.5px solid #1a1a1a; border-bottom: 1px solid #1a1a1a; }
tbody { border-bottom: 1.5px solid #1a1a1a; }
tbody tr + tr { border-top: 1px solid #d9d9d9; }
th, td { padding: 0.35rem 0.6rem; text-align: left; vertical-align: top; font-weight: 400; }
thead th { vertical-align: bottom; font-weight: 600; }
tbody th { min-width: 8.5rem; }
tbody th code { white-space: nowrap; }
th:first-child, td:first-child { padding-left: 0; }
th:last-child, td:last-child { padding-right: 0; }
.number { text-align: right; }
td.number { white-space: nowrap; }
td.wrap { overflow-wrap: anywhere; min-width: 9rem; }
.unit { display: block; font-weight: 400; color: #404040; }
.depth-1 { padding-left: 1.25rem; }
.depth-2 { padding-left: 2.5rem; }
.depth-3 { padding-left: 3.75rem; }
th.depth-1:first-child { padding-left: 1.25rem; }
th.depth-2:first-child { padding-left: 2.5rem; }
th.depth-3:first-child { padding-left: 3.75rem; }
.table-notes { margin-top: 0.5rem; }
.table-notes p { margin: 0 0 0.25rem; }
dt { font-weight: 600; }
dd { margin: 0 0 0.6rem; overflow-wrap: anywhere; }
.references li { font-size: 0.95rem; }
footer { margin-top: 3rem; padding-top: 0.75rem; border-top: 1px solid #1a1a1a; font-size: 0.92rem; color: #404040; }
@media (min-width: 1100px) {
  .wide { width: fit-content; min-width: 42.5rem; max-width: min(78rem, calc(100vw - 3rem)); margin-left: 50%; transform: translateX(-50%); }
  .wide table { font-size: 0.87rem; }
  .wide tbody th { min-width: 9.5rem; }
  .wide.long-heads tbody th { min-width: 13rem; }
  .table-notes { max-width: 42.5rem; }
  .wide th + th, .wide td { padding: 0.3rem 0.45rem; }
}
@media (max-width: 719px) {
  .drawn-page { display: none !important; }
  .drawn-narrow { display: block !important; }
  .contents ul { columns: 1; }
  h1 { font-size: 1.55rem; }
}
@media (max-width: 439px) { body { padding: 0 1rem 3rem; } .caption { max-width: calc(100vw - 2rem); } }
@media (prefers-reduced-motion: no-preference) { html { scroll-behavior: smooth; } }
@media print {
  @page { size: A4; margin: 18mm 17mm; }
  body { padding: 0; font-size: 10.5pt; line-height: 1.45; }
  header, nav, main, footer { max-width: none; }
  .skip, .contents, .reading, .reading-box, .reading-line, .values:not([open]) { display: none; }
  .values .table-scroll { max-height: none; }
  .drawn-page { display: block !important; }
  .drawn-narrow { display: none !important; }
  a { color: inherit; text-decoration: none; }
  p, li { orphans: 3; widows: 3; }
  .table-scroll { overflow: visible; }
  .caption { position: static; max-width: none; }
  table { font-size: 8.5pt; }
  .wide { width: auto; min-width: 0; max-width: none; margin-left: 0; transform: none; }
  .wide table { width: 100%; min-width: 0; font-size: 7pt; }
  .wide th, .wide td { padding: 0.2rem 0.25rem; white-space: normal; min-width: 0; }
  .wide.long-heads tbody th { min-width: 8.5rem; }
  thead { display: table-header-group; }
  tr, .whole { break-inside: avoid; }
  caption { break-after: avoid; }
  figure svg { max-height: 104mm; width: auto; }
  .caution { break-inside: avoid; margin: 0.8rem 0; padding: 0.6rem 1rem 0.1rem; font-size: 9.5pt; }
  .caution li { margin-bottom: 0.1rem; }
  h1 { margin-top: 0; }
  h2 { margin-top: 1.6rem; padding-top: 0.6rem; }
  figure { margin: 0.8rem 0 1rem; }
}
`;
