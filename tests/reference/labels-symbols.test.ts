import bwipjs from 'bwip-js/node';
import { describe, expect, it } from 'vitest';
import { encodeCode } from '@/lib/labels/codes';
import { placeCodewords } from '../unit/labels/data-matrix';

/** Dark modules of a symbol as rows of 0 and 1. */
function paint(content: string): number[][] {
  const code = encodeCode('data-matrix', content);
  const rows = Array.from({ length: code.heightModules }, () => Array<number>(code.widthModules).fill(0));
  for (const rect of code.rects) {
    for (let x = rect.x; x < rect.x + rect.width; x += 1) {
      const row = rows[rect.y];
      if (row) row[x] = 1;
    }
  }
  return rows;
}

/** Codewords read back from a symbol of one region, by our own placement after ISO/IEC 16022 Annex F. */
function readCodewords(content: string): number[] {
  const rows = paint(content);
  const size = rows.length - 2;
  const words: number[] = [];
  placeCodewords(size).forEach((cells, y) => {
    cells.forEach((cell, x) => {
      if (cell === null) return;
      const bit = rows[y + 1]?.[x + 1] ?? 0;
      words[cell.word] = (words[cell.word] ?? 0) | (bit << (8 - cell.bit));
    });
  });
  return words;
}

describe('Data Matrix against ISO/IEC 16022', () => {
  it('"123456": data 142 164 186, error correction 114 25 5 88 102 (Annex R)', () => {
    expect(readCodewords('123456')).toEqual([142, 164, 186, 114, 25, 5, 88, 102]);
  });

  it('"A": data 66 129 70, error correction 138 234 82 82 95', () => {
    expect(readCodewords('A')).toEqual([66, 129, 70, 138, 234, 82, 82, 95]);
  });

  it.each([
    [10, 3],
    [12, 5],
    [14, 8],
    [16, 12],
    [18, 18],
    [20, 22],
    [22, 30],
    [24, 36],
    [26, 44],
    [32, 62],
  ])('a square of %i holds %i data codewords, and one more digit pair needs the next size', (size, words) => {
    expect(paint('12'.repeat(words)).length).toBe(size);
    expect(paint('12'.repeat(words + 1)).length).toBeGreaterThan(size);
  });

  it('has its finder: the left and lower sides dark, the others alternating', () => {
    const rows = paint('LV-2026-00417-T1');
    const size = rows.length;
    expect(rows.map((row) => row[0])).toEqual(Array(size).fill(1));
    expect(rows.at(-1)).toEqual(Array(size).fill(1));
    expect(rows[0]).toEqual(Array.from({ length: size }, (_, x) => (x + 1) % 2));
  });
});

/** Symbol values from the widths of bars and spaces: each symbol has 11 modules in six elements, the stop 13. */
function listCode128Values(widths: number[]): number[] {
  const alphabet = new Map<string, number>();
  for (let value = 0; value < 103; value += 1) {
    const pattern = rawBars(`^103^${String(value).padStart(3, '0')}`, true)
      .slice(6, 12)
      .join('');
    alphabet.set(pattern, value);
  }
  const values: number[] = [];
  for (let at = 0; at + 7 < widths.length; at += 6) {
    values.push(alphabet.get(widths.slice(at, at + 6).join('')) ?? -1);
  }
  return values;
}

function rawBars(text: string, isRaw: boolean): number[] {
  const raw = bwipjs.raw as unknown as (options: object) => { sbs?: number[] }[];
  return raw({ bcid: 'code128', text, raw: isRaw })[0]?.sbs ?? [];
}

/** The check symbol is the last before the stop. */
const checkOf = (values: number[]) => values.at(-1);

describe('Code 128 check symbols', () => {
  it('"PJJ123C" in set A: sum 878, check 54', () => {
    // Start A is 103; P J J 1 2 3 C in set A.
    expect(checkOf(listCode128Values(rawBars('^103^048^042^042^017^018^019^035', true)))).toBe(54);
  });

  it('"HI" in set A then "345678" in set C: sum 1406, check 67', () => {
    expect(checkOf(listCode128Values(rawBars('^103^040^041^099^034^056^078', true)))).toBe(67);
  });

  it.each(['LV-2026-00417-B', 'U-000123', '0123456789'])(
    '%s: our bars carry a check that is the weighted sum modulo 103',
    (content) => {
      const code = encodeCode('code-128', content);
      const edges = code.rects.flatMap((rect) => [rect.x, rect.x + rect.width]);
      const widths = edges.slice(1).map((edge, index) => edge - (edges[index] ?? 0));
      const starts: Record<string, number> = { '211412': 103, '211214': 104, '211232': 105 };
      const start = starts[widths.slice(0, 6).join('')] ?? -1;
      const [, ...values] = listCode128Values(widths);
      const check = values.pop();
      const sum = values.reduce((total, value, index) => total + value * (index + 1), start);
      expect(start).toBeGreaterThan(0);
      expect(check).toBe(sum % 103);
    },
  );
});
