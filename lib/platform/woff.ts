import { inflateSync } from 'node:zlib';

const SIGNATURE = 0x774f4646;
const HEAD = 44;
const ENTRY = 20;
const SFNT_HEAD = 12;
const SFNT_ENTRY = 16;

const aligned = (length: number): number => (length + 3) & ~3;

/**
 * The font inside a WOFF file as plain SFNT bytes (W3C WOFF File Format 1.0, sections 3 to 5); any other bytes come back
 * as they are. Writers of PDF would inflate the tables anew for each document.
 */
export function unwrapWoff(bytes: Buffer): Buffer {
  if (bytes.length < HEAD || bytes.readUInt32BE(0) !== SIGNATURE) return bytes;
  const count = bytes.readUInt16BE(12);
  const head = Buffer.alloc(SFNT_HEAD + count * SFNT_ENTRY);
  const power = 2 ** Math.floor(Math.log2(count));
  head.writeUInt32BE(bytes.readUInt32BE(4), 0);
  head.writeUInt16BE(count, 4);
  head.writeUInt16BE(power * 16, 6);
  head.writeUInt16BE(Math.log2(power), 8);
  head.writeUInt16BE((count - power) * 16, 10);
  const parts: Buffer[] = [head];
  let offset = head.length;
  for (let index = 0; index < count; index += 1) {
    const entry = HEAD + index * ENTRY;
    const from = bytes.readUInt32BE(entry + 4);
    const [packed, length] = [bytes.readUInt32BE(entry + 8), bytes.readUInt32BE(entry + 12)];
    const stored = bytes.subarray(from, from + packed);
    const table = packed < length ? inflateSync(stored) : stored;
    const at = SFNT_HEAD + index * SFNT_ENTRY;
    bytes.copy(head, at, entry, entry + 4);
    bytes.copy(head, at + 4, entry + 16, entry + 20);
    head.writeUInt32BE(offset, at + 8);
    head.writeUInt32BE(length, at + 12);
    parts.push(table, Buffer.alloc(aligned(length) - length));
    offset += aligned(length);
  }
  return Buffer.concat(parts);
}
