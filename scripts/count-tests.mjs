// Adds up the runner's own JSON reports and prints the closing line; no report, or no test in one, is a failure.
import { readFileSync } from 'node:fs';

let passed = 0;
let failed = 0;
for (const file of process.argv.slice(2)) {
  try {
    const report = JSON.parse(readFileSync(file, 'utf8'));
    if (!(report.numTotalTests > 0)) {
      console.error(`${file}: the runner executed no test`);
      failed += 1;
    }
    if (!report.success && report.numFailedTests === 0) {
      console.error(`${file}: the runner failed outside of a test`);
      failed += 1;
    }
    if (report.numPendingTests + report.numTodoTests > 0) {
      console.error(`${file}: ${report.numPendingTests + report.numTodoTests} tests were skipped`);
      failed += 1;
    }
    passed += report.numPassedTests;
    failed += report.numFailedTests;
  } catch (error) {
    console.error(`${file}: no readable report (${error instanceof Error ? error.message : String(error)})`);
    failed += 1;
  }
}
if (passed === 0) failed = Math.max(failed, 1);
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
