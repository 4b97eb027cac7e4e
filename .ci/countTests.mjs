// Prints `N passed, N failed` from the test runner's own report; ends with 1 where anything failed or nothing ran.
import { readFileSync } from 'node:fs';

let report;
try {
  report = JSON.parse(readFileSync(process.argv[2], 'utf8'));
} catch {
  report = { numPassedTests: 0, numFailedTests: 0, testResults: [] };
}
// A file that cannot even be loaded has no failed test of its own, and yet it failed.
const brokenFiles = report.testResults.filter(
  ({ status, assertionResults }) =>
    status === 'failed' && !assertionResults.some((result) => result.status === 'failed'),
).length;
const passed = report.numPassedTests;
const failed = report.numFailedTests + brokenFiles;
const skipped = (report.numPendingTests ?? 0) + (report.numTodoTests ?? 0);

if (skipped > 0) console.log(`${skipped} skipped, each with its reason in its name`);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 || passed === 0 ? 1 : 0;
