// Tells each failure by file, name and the head of its message, then counts: the end of the output is what is
// always at hand. Arguments: log and exit code of `npm start`, then command, report, log and exit code of each
// run of tests.
import { existsSync, readFileSync } from "node:fs";
import { relative } from "node:path";

const mostLines = 12;
const mostTold = 20;
const colours = new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, "g");

const lines = (text) =>
  text
    .replace(colours, "")
    .trimEnd()
    .split("\n")
    .filter((line) => !/^\s*(at|❯) .*node_modules/.test(line));
const indented = (some) => some.map((line) => `    ${line.slice(0, 300)}`).join("\n");
const tail = (log, count) =>
  existsSync(log) ? lines(readFileSync(log, "utf8")).slice(-count) : [];

/** Failures of one run as text: tests, and files that could not be loaded or set up. */
function failuresOf(report) {
  return report.testResults.flatMap(({ name, status, message, assertionResults }) => {
    const file = relative(process.cwd(), name);
    const failed = assertionResults.filter((test) => test.status === "failed");
    const told = failed.map(
      (test) =>
        `FAILED ${file} > ${test.fullName} (after ${Math.round(test.duration ?? 0)} ms)\n` +
        indented(lines((test.failureMessages ?? []).join("\n")).slice(0, mostLines)),
    );
    if (status === "failed" && failed.length === 0) {
      const skipped = assertionResults.filter((test) => test.status !== "passed").length;
      told.push(
        `FAILED ${file} as a whole (${skipped} of its tests not run)\n` +
          indented(lines(message ?? "").slice(0, mostLines)),
      );
    }
    return told;
  });
}

const [startLog, startEnded, ...runs] = process.argv.slice(2);
let passed = 0;
let failed = 0;
const told = [];
for (let at = 0; at < runs.length; at += 4) {
  const [command, report, log, ended] = runs.slice(at, at + 4);
  let failedHere = 0;
  const toldHere = [];
  if (existsSync(report)) {
    try {
      const counts = JSON.parse(readFileSync(report, "utf8"));
      toldHere.push(...failuresOf(counts));
      passed += counts.numPassedTests;
      failedHere = counts.numFailedTests;
    } catch (error) {
      failedHere = 1;
      toldHere.push(`FAILED ${command}: its report ${report} cannot be read: ${error.message}`);
    }
  }
  if (ended !== "0" && failedHere === 0) failedHere = 1;
  if (ended !== "0" && toldHere.length === 0) {
    toldHere.push(
      `FAILED ${command} ended with ${ended}, though no test failed; the end of its output:\n` +
        indented(tail(log, 40)),
    );
  }
  failed += failedHere;
  told.push(...toldHere);
}
if (startEnded === "0") passed += 1;
else {
  failed += 1;
  told.push(`FAILED npm start; the end of its output:\n${indented(tail(startLog, 20))}`);
}

for (const one of told.slice(0, mostTold)) console.log(one);
if (told.length > mostTold) console.log(`and ${told.length - mostTold} more failures`);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
