export { PublishError, type PublishErrorCode } from './publish-error.ts';
export { type FolderKind, type PublishedFile, publishFolder } from './publish-folder.ts';
export { publishFrames } from './publish-frames.ts';
export { madeFiles, publishReport } from './publish-report.ts';
export { writeFindings } from './write-findings.ts';
export { type ChangedNumber, changedNumbers } from './changed-numbers.ts';
export { indexPage } from './index-page.ts';
export { type Ledger, type LedgerEntry, latestEntries, ledgerFaults, withEntry } from './ledger.ts';
export { lockFolder } from './lock.ts';
export {
  type Publication,
  type Published,
  earlierVersions,
  publishInto,
  settleReports,
} from './reports-folder.ts';
export { type FolderCheck, verifyFolder } from './verify-folder.ts';
