export { PublishError, type PublishErrorCode } from './publish-error.ts';
export { type FolderKind, type PublishedFile, publishFolder } from './publish-folder.ts';
export { publishFrames } from './publish-frames.ts';
export { publishReport } from './publish-report.ts';
export { writeFindings } from './write-findings.ts';
