export { PublishError, type PublishErrorCode } from './publish-error.ts';
export { type PublishedFile, publishFolder } from './publish-folder.ts';
export { publishReport } from './publish-report.ts';
export { writeFindings } from './write-findings.ts';
