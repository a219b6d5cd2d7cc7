// The package's main entry: what runs in a browser, and reading and publishing folders.
export * from './browser.ts';
export { readExport, type ReadFolderOptions } from './records/files/read-folder.ts';
export { writeQuarantine } from './records/files/quarantine.ts';
export * from './reports/publish/index.ts';
export { pseudonymise, type PseudonymisedFile } from './records/files/pseudonymise.ts';
export { draftFolder } from './records/files/draft-folder.ts';
