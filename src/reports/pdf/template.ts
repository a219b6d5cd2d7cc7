/** Measures of the page that the layout of tables and figures must know, in points. */
export const PAGE = {
  textWidth: 482,
  /** Of a page turned on its side. */
  wideTextWidth: 729,
  /** A figure is drawn no taller. */
  figureHeight: 430,
} as const;

/** Tables are set in the condensed face of the family, whose letters are nine tenths as wide. */
export const TABLE_STRETCH = 0.9;

/** How much room stands between two columns of a table, in points. */
export const COLUMN_GAP = 10;

/**
 * The look of the PDF, in Typst. It is the same for every report: all that a report says comes from `report.json`,
 * where it is data. A string from there is set as it stands and never read as markup.
 */
export const TEMPLATE = `
#let report = json("report.json")
#let ink = rgb("#1a1a1a")
#let quiet = rgb("#404040")
#let made = datetime(year: report.made.year, month: report.made.month, day: report.made.day)

#set document(title: report.title, description: report.subtitle, date: made)
#set page(
  paper: "a4",
  margin: (x: 20mm, top: 18mm, bottom: 21mm),
  footer: context [
    #set text(size: 7.5pt, fill: quiet)
    #grid(
      columns: (1fr, auto),
      align: (left, right),
      column-gutter: 12pt,
      report.footer,
      [#counter(page).display() of #counter(page).final().first()],
    )
  ],
)
#set text(font: "DejaVu Sans", size: 9pt, lang: report.language, fill: ink, hyphenate: false)
#set par(leading: 0.62em, spacing: 0.95em)
#set list(indent: 0pt, body-indent: 0.6em, spacing: 0.6em)
#set enum(indent: 0pt, body-indent: 0.6em, spacing: 0.6em)
#set terms(hanging-indent: 1.2em, spacing: 0.7em)
#show link: set text(fill: rgb("#005c91"))
#show title: set text(size: 17pt, weight: "bold")
#show title: set block(below: 0.7em)
#show heading: set text(weight: "bold")
#show heading: set block(sticky: true)
#show heading.where(level: 1): it => block(above: 2em, below: 0.9em, sticky: true, width: 100%, stroke: (top: 0.6pt + ink), inset: (top: 0.6em), text(size: 12.5pt, it.body))
#show heading.where(level: 2): set text(size: 10pt)
#show heading.where(level: 2): set block(above: 1.5em, below: 0.7em)
#set figure(gap: 0.7em, numbering: none, supplement: none)
#show figure: set align(left)
#show figure.caption: set align(left)
#show figure.where(kind: table): set figure.caption(position: top)
#show figure.where(kind: table): set block(above: 1.6em, below: 1em)
#show figure.where(kind: image): set block(breakable: false, above: 1.3em, below: 1.3em)

#let run(part) = {
  if part.kind == "text" { text(part.text) }
  else if part.kind == "emphasis" { emph(text(part.text)) }
  else if part.kind == "strong" { strong(text(part.text)) }
  else if part.kind == "code" { text(font: "DejaVu Sans Mono", size: 0.86em, part.text) }
  else if part.kind == "reference" { link(label(part.target), text(part.text)) }
  else { super(part.works.map(work => link(label(work.target), str(work.number))).join([, ])) }
}
#let inline(parts) = parts.map(run).join()

#let set-table(block-data) = {
  let rule = 0.9pt + ink
  let columns = block-data.columns
  let content = table(
    columns: block-data.widths.map(width => width * 1pt),
    align: (x, y) => (if y == 0 { bottom } else { top }) + (if columns.at(x).align == "right" { right } else { left }),
    inset: (x, y) => (
      left: if x == 0 { 0pt } else { report.gap * 0.5pt },
      right: if x == columns.len() - 1 { 0pt } else { report.gap * 0.5pt },
      y: 3pt,
    ),
    stroke: (x, y) => if y == 0 { (top: rule, bottom: 0.6pt + ink) } else if y > 1 { (top: 0.4pt + rgb("#d9d9d9")) },
    table.header(
      repeat: true,
      ..columns.map(column => {
        strong(text(column.label))
        if "unit" in column { linebreak(); text(fill: quiet, column.unit) }
      }),
    ),
    ..block-data.rows.map(row => row.map(cell => {
      if cell.depth > 0 { pad(left: cell.depth * 10pt, inline(cell.parts)) } else { inline(cell.parts) }
    })).flatten(),
    table.hline(stroke: rule),
  )
  let whole = [
    #figure(kind: table, caption: block(sticky: true, strong(inline(block-data.caption))), {
      set text(size: block-data.size * 1pt, stretch: 90%)
      set par(leading: 0.5em)
      content
    })#label(block-data.target)
    #for note in block-data.notes { block(above: 0.6em, text(size: 7.8pt, fill: quiet, inline(note))) }
  ]
  if block-data.wide {
    page(flipped: true, whole)
  } else if block-data.kept {
    block(breakable: false, width: 100%, whole)
  } else {
    show figure: set block(breakable: true)
    whole
  }
}

#let set-figure(block-data, width) = [
  #figure(
    kind: image,
    alt: block-data.alternative,
    caption: text(size: 8pt, fill: quiet, inline(block-data.caption)),
    image(block-data.path, format: "svg", width: width, alt: block-data.alternative),
  )#label(block-data.target)
]

#let set-block(block-data) = {
  let kind = block-data.kind
  if kind == "paragraph" { par(inline(block-data.text)) }
  else if kind == "statement" { par(text(size: 10pt, strong(inline(block-data.text)))) }
  else if kind == "note" { par(text(size: 8pt, fill: quiet, inline(block-data.text))) }
  else if kind == "list" {
    let items = block-data.items.enumerate().map(((i, item)) => {
      inline(item)
      // Where the text above a figure ends.
      if i == block-data.items.len() - 1 [#metadata(none)<list-end>]
    })
    if block-data.ordered { enum(..items) } else { list(..items) }
  } else if kind == "definitions" {
    terms(..block-data.items.map(item => terms.item(text(item.term), inline(item.description))))
  } else if kind == "table" { set-table(block-data) }
  else if block-data.first {
    // The first figure takes what the summary leaves of the first page, unless that would be too little to read.
    context {
      let ends = query(selector(<list-end>).before(here()))
      let y = if ends.len() > 0 and ends.last().location().page() == 1 { ends.last().location().position().y } else { 842pt }
      let room = 842pt - 60pt - y - 76pt
      let full = block-data.width * 1pt
      set-figure(block-data, if room < 300pt { full } else { calc.min(full, room * block-data.ratio) })
    }
  } else { set-figure(block-data, block-data.width * 1pt) }
}

#let set-section(section, level) = {
  [#heading(level: level, text(section.title))#label(section.target)]
  for block-data in section.blocks { set-block(block-data) }
  for part in section.sections { set-section(part, calc.min(level + 1, 6)) }
}

#title()
#par(text(size: 10.5pt, fill: quiet, report.subtitle))
#block(width: 100%, stroke: 1.2pt + ink, inset: (x: 10pt, y: 9pt), breakable: false, above: 1.1em, below: 1.1em, {
  {
    show heading: it => block(below: 0.7em, text(size: 10pt, it.body))
    heading(level: 1, text(report.caution.title))
  }
  set text(size: 8.4pt)
  list(..report.caution.items.map(inline))
})
#for section in report.sections { set-section(section, 1) }
#if report.works.len() > 0 {
  [#heading(level: 1, report.words.references)#label("references")]
  enum(..report.works.map(work => [#text(work.text)#label(work.target)]))
}
#block(above: 2em, width: 100%, stroke: (top: 0.6pt + ink), inset: (top: 0.6em), text(size: 8pt, fill: quiet, inline(report.colophon)))
`;
