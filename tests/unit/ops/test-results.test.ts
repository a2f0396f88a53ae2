import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { makeScratchDir, removeScratchDir } from '@/lib/ops/scratch-dir';
import { addCounts, countAudit, countPlaywright, countVitest, formatCounts } from '@/lib/ops/test-results';

const dir = makeScratchDir('counts');
afterAll(() => removeScratchDir(dir));

function write(report: unknown): string {
  const file = path.join(dir, `${Math.random()}.json`);
  writeFileSync(file, JSON.stringify(report));
  return file;
}

const test = (status: string, title = 'x') => ({
  status,
  fullName: `group ${title}`,
  ancestorTitles: ['group'],
});

describe('countVitest', () => {
  it('counts cases and names what was skipped once', () => {
    const file = write({
      testResults: [
        { name: 'a', status: 'passed', assertionResults: [test('passed'), test('skipped'), test('pending')] },
        { name: 'b', status: 'failed', assertionResults: [test('failed'), test('passed')] },
      ],
    });
    expect(countVitest(file, 1)).toEqual({
      counts: { passed: 2, failed: 1, skipped: 2 },
      skippedNames: ['group'],
    });
  });

  it('counts a file that could not be loaded as failed', () => {
    const file = write({ testResults: [{ name: 'a', status: 'failed', assertionResults: [] }] });
    expect(countVitest(file, 1).counts).toEqual({ passed: 0, failed: 1, skipped: 0 });
  });

  it('never takes a bad end for a good one', () => {
    const file = write({
      testResults: [{ name: 'a', status: 'passed', assertionResults: [test('passed')] }],
    });
    expect(countVitest(file, 1).counts.failed).toBe(1);
    expect(countVitest(file, null).counts.failed).toBe(1);
    expect(countVitest(path.join(dir, 'missing.json'), 1).counts.failed).toBe(1);
  });
});

describe('countPlaywright', () => {
  it('takes a test that passed only when repeated as failed, and errors outside tests too', () => {
    const skipped = { title: 'by train', tests: [{ status: 'skipped' }] };
    const file = write({
      stats: { expected: 3, unexpected: 1, flaky: 1, skipped: 1 },
      errors: [{}],
      suites: [
        { specs: [], suites: [{ specs: [skipped, { title: 'on foot', tests: [{ status: 'expected' }] }] }] },
      ],
    });
    expect(countPlaywright(file, 1)).toEqual({
      counts: { passed: 3, failed: 3, skipped: 1 },
      skippedNames: ['by train'],
    });
  });
});

describe('formatCounts', () => {
  it('ends a run the same way always', () => {
    const sum = addCounts({ passed: 1, failed: 0, skipped: 0 }, { passed: 2, failed: 3, skipped: 0 });
    expect(formatCounts(sum)).toBe('3 passed, 3 failed');
    expect(formatCounts({ ...sum, skipped: 4 })).toBe('3 passed, 3 failed, 4 skipped');
  });
});

/** Shapes as npm 10 writes them: seen from `npm audit --json` (a report) and from a registry without one (405). */
describe('countAudit', () => {
  const report = (vulnerabilities: Record<string, number>) =>
    JSON.stringify({
      auditReportVersion: 2,
      vulnerabilities: {},
      metadata: { vulnerabilities, dependencies: {} },
    });

  it.each([
    [
      'nothing known',
      { info: 0, low: 0, moderate: 0, high: 0, critical: 0, total: 0 },
      1,
      0,
      'packages: none',
    ],
    [
      'only moderate ones',
      { low: 2, moderate: 1, high: 0, critical: 0, total: 3 },
      1,
      0,
      '2 low, 1 moderate',
    ],
    ['a high one', { low: 0, high: 1, critical: 0, total: 1 }, 0, 1, '1 high'],
    ['a critical one', { high: 0, critical: 2, total: 2 }, 0, 1, '2 critical'],
  ])('%s', (_, found, passed, failed, said) => {
    const result = countAudit(report(found));
    expect(result.counts).toEqual({ passed, failed, skipped: 0 });
    expect(result.summary).toContain(said);
  });

  it.each([
    ['no answer', ''],
    [
      'a registry without one',
      '{"message":"405 Method Not Allowed","statusCode":405,"error":{"summary":""}}',
    ],
    ['words', 'npm error audit endpoint returned an error'],
    ['a cut report', report({ high: 1 }).slice(0, 40)],
  ])('%s: skipped, and it says so', (_, output) => {
    const { counts, skippedNames } = countAudit(output);
    expect(counts).toEqual({ passed: 0, failed: 0, skipped: 1 });
    expect(skippedNames[0]).toContain('could not be asked');
  });
});
