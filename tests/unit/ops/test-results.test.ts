import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { makeScratchDir, removeScratchDir } from '@/lib/ops/scratch-dir';
import { addCounts, countPlaywright, countVitest, formatCounts } from '@/lib/ops/test-results';

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
