import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, it } from 'vitest';
import { hintCompilation } from '@/lib/ops/compile-hints';

it('puts the comment of V8 first in each longer script, once, and leaves other files', () => {
  const long = 'go();'.repeat(4000);
  const dir = mkdtempSync(path.join(tmpdir(), 'hints-'));
  const read = (name: string) => readFileSync(path.join(dir, name), 'utf8');
  writeFileSync(path.join(dir, 'a.js'), long);
  writeFileSync(path.join(dir, 'b.js'), 'go();');
  writeFileSync(path.join(dir, 'a.css'), 'body{}');
  hintCompilation(dir);
  hintCompilation(dir);
  // The comment as the V8 project writes it: https://v8.dev/blog/explicit-compile-hints, from memory.
  expect(read('a.js')).toBe(`//# allFunctionsCalledOnLoad\n${long}`);
  expect(read('b.js')).toBe('go();');
  expect(read('a.css')).toBe('body{}');
  rmSync(dir, { recursive: true });
});
