import { readFileSync } from 'node:fs';
import path from 'node:path';
import { create, type Font } from 'fontkit';
import { describe, expect, it } from 'vitest';
import { unwrapWoff } from '@/lib/platform/woff';

const file = path.resolve('node_modules/@fontsource/source-sans-3/files/source-sans-3-latin-400-normal.woff');
const packed = readFileSync(file);
const glyphsOf = (bytes: Buffer): [number, number][] =>
  (create(bytes) as Font)
    .layout('Turdus migratorius, 94.5 mm')
    .glyphs.map(({ id, advanceWidth }) => [id, advanceWidth]);

/** The sum of a table as big-endian 32-bit words (OpenType 1.9, "Calculating checksums"). */
function checksumOf(table: Buffer): number {
  const padded = Buffer.concat([table, Buffer.alloc(-table.length & 3)]);
  let sum = 0;
  for (let at = 0; at < padded.length; at += 4) sum = (sum + padded.readUInt32BE(at)) >>> 0;
  return sum;
}

describe('unwrapWoff', () => {
  const plain = unwrapWoff(packed);

  it('gives a font that lays out text as the packed one does', () => {
    expect(plain.readUInt32BE(0)).toBe(packed.readUInt32BE(4));
    expect(glyphsOf(plain)).toEqual(glyphsOf(packed));
  });

  it('gives each table with the checksum that its directory states', () => {
    const count = plain.readUInt16BE(4);
    for (let index = 0; index < count; index += 1) {
      const entry = 12 + index * 16;
      const tag = plain.toString('latin1', entry, entry + 4);
      // The head's own table holds the sum of the whole file, left out of its checksum.
      if (tag === 'head') continue;
      const [from, length] = [plain.readUInt32BE(entry + 8), plain.readUInt32BE(entry + 12)];
      expect(checksumOf(plain.subarray(from, from + length)), tag).toBe(plain.readUInt32BE(entry + 4));
    }
    expect(count).toBeGreaterThan(8);
  });

  it('leaves other bytes as they are', () => {
    const other = Buffer.from('no font at all, and long enough to have a head of that size');
    expect(unwrapWoff(other)).toBe(other);
  });
});
