import { existsSync, lstatSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { linkEqualChunks } from '@/lib/ops/equal-chunks';

let dir: string;
beforeEach(() => {
  dir = mkdtempSync(path.join(tmpdir(), 'chunks-'));
});
afterEach(() => rmSync(dir, { recursive: true }));

const write = (name: string, code: string) =>
  writeFileSync(path.join(dir, name), `${code}\n\n//# sourceMappingURL=${name}.map`);
const isLink = (name: string) => lstatSync(path.join(dir, name)).isSymbolicLink();

describe('pieces of server code that say the same', () => {
  it('are one file, whatever their maps are called; others stay as they are', () => {
    write('a.js', 'module.exports = { one: 1 };');
    write('b.js', 'module.exports = { one: 2 };');
    write('c.js', 'module.exports = { one: 1 };');
    writeFileSync(path.join(dir, 'a.js.map'), '{}');
    writeFileSync(path.join(dir, 'c.js.map'), '{}');
    expect(linkEqualChunks(dir)).toBe(1);
    expect(readdirSync(dir).filter((name) => isLink(name))).toEqual(['c.js']);
    const load = createRequire(path.join(dir, 'any.js'));
    expect(load('./c.js')).toBe(load('./a.js'));
    expect(load('./b.js')).toEqual({ one: 2 });
  });

  it('stay linked when it is done again', () => {
    write('a.js', 'module.exports = 1;');
    write('b.js', 'module.exports = 1;');
    linkEqualChunks(dir);
    linkEqualChunks(dir);
    expect([isLink('a.js'), isLink('b.js')]).toEqual([false, true]);
    expect(existsSync(path.join(dir, 'b.js'))).toBe(true);
  });
});
