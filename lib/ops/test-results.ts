import { existsSync, readFileSync } from 'node:fs';

/** How many test cases of a stage went how. */
export interface Counts {
  passed: number;
  failed: number;
  skipped: number;
}

/** The last line of a run: `N passed, N failed`, and how many were skipped if any. */
export function formatCounts({ passed, failed, skipped }: Counts): string {
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
}

export function addCounts(a: Counts, b: Counts): Counts {
  return { passed: a.passed + b.passed, failed: a.failed + b.failed, skipped: a.skipped + b.skipped };
}

/** What a stage came to: its counts and the names of what was skipped. */
export interface StageResult {
  counts: Counts;
  skippedNames: string[];
}

interface VitestReport {
  testResults: {
    name: string;
    status: string;
    assertionResults: { status: string; fullName: string; ancestorTitles: string[] }[];
  }[];
}

/**
 * Counts the report vitest writes with `--reporter=json`. A file that could not be loaded has no cases and
 * counts as one failed; so does a run that ended with an error nothing else accounts for.
 */
export function countVitest(reportFile: string, exitCode: number | null): StageResult {
  const counts: Counts = { passed: 0, failed: 0, skipped: 0 };
  const skippedNames = new Set<string>();
  if (existsSync(reportFile)) {
    const report = JSON.parse(readFileSync(reportFile, 'utf8')) as VitestReport;
    for (const file of report.testResults) {
      const failedBefore = counts.failed;
      for (const test of file.assertionResults) {
        if (test.status === 'passed') counts.passed++;
        else if (test.status === 'failed') counts.failed++;
        else {
          counts.skipped++;
          skippedNames.add(test.ancestorTitles[0] ?? test.fullName);
        }
      }
      if (file.status === 'failed' && counts.failed === failedBefore) counts.failed++;
    }
  }
  return { counts: accountFor(counts, exitCode), skippedNames: [...skippedNames] };
}

interface AuditReport {
  metadata?: { vulnerabilities?: Record<string, number> };
}

/**
 * Counts what `npm audit --json` says of the packages that ship: known weaknesses of high or critical severity fail.
 * An answer that is no report (no network, a registry that has none) is skipped, in words.
 */
export function countAudit(output: string): StageResult & { summary: string } {
  const found = readAudit(output);
  if (found === null) {
    const summary = 'the registry could not be asked for known weaknesses of packages';
    return { counts: { passed: 0, failed: 0, skipped: 1 }, skippedNames: [summary], summary };
  }
  const grave = (found.high ?? 0) + (found.critical ?? 0);
  const summary = Object.entries(found)
    .filter(([severity, times]) => severity !== 'total' && times > 0)
    .map(([severity, times]) => `${times} ${severity}`)
    .join(', ');
  const counts = { passed: grave === 0 ? 1 : 0, failed: grave === 0 ? 0 : 1, skipped: 0 };
  return { counts, skippedNames: [], summary: `Known weaknesses of packages: ${summary || 'none'}` };
}

function readAudit(output: string): Record<string, number> | null {
  try {
    return (JSON.parse(output.slice(output.indexOf('{'))) as AuditReport).metadata?.vulnerabilities ?? null;
  } catch {
    return null;
  }
}

interface PlaywrightSuite {
  specs: { title: string; tests: { status: string }[] }[];
  suites?: PlaywrightSuite[];
}
interface PlaywrightReport {
  stats: { expected: number; unexpected: number; flaky: number; skipped: number };
  errors: unknown[];
  suites: PlaywrightSuite[];
}

/** Counts the report Playwright writes with `--reporter=json`. A test that passed only when repeated failed. */
export function countPlaywright(reportFile: string, exitCode: number | null): StageResult {
  let counts: Counts = { passed: 0, failed: 0, skipped: 0 };
  let skippedNames: string[] = [];
  if (existsSync(reportFile)) {
    const { stats, errors, suites } = JSON.parse(readFileSync(reportFile, 'utf8')) as PlaywrightReport;
    counts = {
      passed: stats.expected,
      failed: stats.unexpected + stats.flaky + errors.length,
      skipped: stats.skipped,
    };
    skippedNames = suites.flatMap(listSkipped);
  }
  return { counts: accountFor(counts, exitCode), skippedNames };
}

function listSkipped({ specs, suites = [] }: PlaywrightSuite): string[] {
  const own = specs.filter(({ tests }) => tests.some(({ status }) => status === 'skipped'));
  return [...own.map(({ title }) => title), ...suites.flatMap(listSkipped)];
}

function accountFor(counts: Counts, exitCode: number | null): Counts {
  return exitCode !== 0 && counts.failed === 0 ? { ...counts, failed: 1 } : counts;
}
