export { auditReport } from './audit/audit-report.ts';
export { canonicalJson } from './canonical-json.ts';
export { CITATION_KEYS, type CitationKey, citedWork } from './citations.ts';
export { cohortReport } from './cohort/cohort-report.ts';
export { durationReport } from './duration/duration-report.ts';
export type { Block, ReportDocument, Section } from './document.ts';
export { type DataTable, dataTables } from './data-tables.ts';
export { type DrawnFigures, drawFigures } from './drawn-figures.ts';
export { findingsSchema } from './findings-schema/index.ts';
export { frameFiles } from './frames/frame-files.ts';
export { frameDictionaryText } from './frames/frames-readme.ts';
export { renderHtml } from './html/render-html.ts';
export { type Provenance, provenanceOf } from './provenance.ts';
export {
  type FindingsDocument,
  type FindingsInput,
  findingsDocument,
  findingsJson,
} from './findings-document.ts';
export { type PdfSource, pdfSource } from './pdf/pdf-source.ts';
export { type FormatMakers, type ReportFile, reportFiles } from './report-files.ts';
export { workbook } from './workbook.ts';
export { type FlowLine, flowLines } from './parts/flow-section.ts';
export {
  attack,
  type AttackedFile,
  DisclosureError,
  disclosureCautions,
  disclosureMethods,
  disclosurePolicy,
  protectFindings,
} from './disclosure/index.ts';
