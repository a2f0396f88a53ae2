import { describe, expect, it } from 'vitest';
import { WedgeReader } from '@/components/storage/wedge';

/** Types signs at a steady pace and ends with Enter; answers what was read. */
function type(reader: WedgeReader, text: string, stepMs: number, from = 0): string | null {
  let at = from;
  for (const key of text) {
    at += stepMs;
    if (key !== key.toLowerCase()) reader.take({ key: 'Shift', at, isText: false });
    expect(reader.take({ key, at, isText: true })).toBeNull();
  }
  return reader.take({ key: 'Enter', at: at + stepMs, isText: false });
}

describe('telling a scanner from a hand', () => {
  it('takes what no hand types, capitals and all', () => {
    expect(type(new WedgeReader(), 'SB-2026-0417-T1.2', 8)).toBe('SB-2026-0417-T1.2');
  });

  it('leaves a hand alone, however long it types', () => {
    expect(type(new WedgeReader(), 'hello world', 120)).toBeNull();
  });

  it('begins anew after a pause, so that a stray key before a scan does not count', () => {
    const reader = new WedgeReader();
    reader.take({ key: 'x', at: 0, isText: true });
    expect(type(reader, 'U-00012', 5, 900)).toBe('U-00012');
  });

  it('takes no code from a few quick keys, nor across other keys', () => {
    expect(type(new WedgeReader(), 'abc', 5)).toBeNull();
    const reader = new WedgeReader();
    for (const [index, key] of [...'ABCD'].entries()) reader.take({ key, at: index * 5, isText: true });
    reader.take({ key: 'Tab', at: 22, isText: false });
    expect(reader.take({ key: 'Enter', at: 25, isText: false })).toBeNull();
  });

  it('reads one code after the other', () => {
    const reader = new WedgeReader();
    expect(type(reader, 'TUBE-0001', 6)).toBe('TUBE-0001');
    expect(type(reader, 'TUBE-0002', 6, 200)).toBe('TUBE-0002');
  });
});
