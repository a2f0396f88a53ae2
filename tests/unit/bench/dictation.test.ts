import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DICTATION_HELP } from '@/lib/bench/dictation/help';
import { parseDictation, type UnderstoodField } from '@/lib/bench/dictation/parse';
import type { DictationContext } from '@/lib/bench/dictation/sheet';
import { NUMBER_LINES } from '@/tests/unit/bench/dictation-lines-numbers';
import { CONTEXT_LINES, WORD_LINES } from '@/tests/unit/bench/dictation-lines-words';

type Loose = Record<string, unknown> & { vial?: number; kinds?: string[] };

const showSize = (value: Loose) =>
  value.widthMm === undefined ? `${value.lengthMm ?? ''}` : `${value.lengthMm}x${value.widthMm}`;

function showValue(value: unknown, field: string): string {
  if (Array.isArray(value)) {
    if (field === 'tissueVials') return value.map((v: Loose) => `${v.vial}:${v.kinds?.join('+')}`).join(',');
    if (field === 'organsSeen') return value.join('+');
    return value.map((item) => `[${item}]`).join('');
  }
  if (typeof value === 'object' && value !== null) {
    const loose = value as Loose;
    if ('scale' in loose) return `${loose.score}@${loose.scale}`;
    return [loose.state, showSize(loose)].filter(Boolean).join(' ');
  }
  const quoted = /Colour$|Remarks$|^remarks$|^identifiedAs$|^causeOfDeathFound$/.test(field);
  return quoted ? `"${value}"` : `${value}`;
}

const show = (item: UnderstoodField) =>
  `${item.field}=${showValue(item.value, item.field)}${item.method ? `/${item.method}` : ''}${item.correction ? '!' : ''}`;

const understood = (line: string, context?: DictationContext) =>
  parseDictation(line, context).understood.map(show).join(' | ');

const notUnderstood = (line: string) =>
  parseDictation(line)
    .notUnderstood.map(({ text, reason }) => `${text} (${reason})`)
    .join(' | ');

const LINES = [...NUMBER_LINES, ...WORD_LINES];

describe('what is said at the bench', () => {
  it('is a table of at least 300 different lines', () => {
    expect(new Set([...LINES, ...CONTEXT_LINES].map(([line]) => line)).size).toBeGreaterThanOrEqual(300);
  });

  it.each(LINES)('understands %j', (line, fields, unknown = '') => {
    expect(understood(line)).toBe(fields);
    expect(notUnderstood(line)).toBe(unknown);
  });

  it.each(CONTEXT_LINES)('understands %j after %j', (line, context, fields) => {
    expect(understood(line, context as DictationContext)).toBe(fields);
  });

  it('keeps what was said, before conversion', () => {
    const line = 'mass two pounds three ounces, wing 3.7 in';
    expect(parseDictation(line).understood.map(({ verbatim, unit }) => [verbatim, unit])).toEqual([
      ['mass two pounds three ounces', 'g'],
      ['wing 3.7 in', 'mm'],
    ]);
  });

  it('gives back the surplus of an endless line', () => {
    const { understood: fields, notUnderstood: rest } = parseDictation(`wing 94; ${'x '.repeat(12_000)}`);
    expect(fields.map(show)).toEqual(['wingMm=94']);
    expect(rest.at(-1)?.reason).toBe('too-long');
  });
});

const PIECES = [...new Set(LINES.flatMap(([line]) => line.split(/(\s+|,)/)))].filter(
  (piece) => piece.trim() !== '',
);
const spokenSalad = fc
  .array(fc.oneof(fc.constantFrom(...PIECES), fc.string({ maxLength: 6, unit: 'binary' })), { maxLength: 40 })
  .map((pieces) => pieces.join(' '));

describe('whatever is typed', { timeout: 60_000 }, () => {
  it('never throws, and every piece has its place in the line', () => {
    fc.assert(
      fc.property(fc.oneof(spokenSalad, fc.string({ unit: 'binary', maxLength: 200 })), (line) => {
        const { understood: fields, notUnderstood: rest } = parseDictation(line);
        for (const { span, verbatim } of fields) expect(line.slice(span.start, span.end)).toBe(verbatim);
        for (const { span, text } of rest) expect(line.slice(span.start, span.end)).toBe(text);
        const spans = [...new Set(fields.map(({ span }) => span)), ...rest.map(({ span }) => span)];
        const sorted = spans.sort((a, b) => a.start - b.start);
        sorted.forEach((span, at) => {
          expect(span.end).toBeGreaterThan(span.start);
          expect(span.start).toBeGreaterThanOrEqual(sorted[at - 1]?.end ?? 0);
        });
      }),
      { numRuns: 1500 },
    );
  });

  it('loses no figure: each is understood, not understood, or quoted in a text', () => {
    fc.assert(
      fc.property(spokenSalad, (line) => {
        const { understood: fields, notUnderstood: rest } = parseDictation(line);
        for (const match of line.matchAll(/\d+/g)) {
          const inside = [...fields, ...rest].some(
            ({ span }) => span.start <= match.index && match.index + match[0].length <= span.end,
          );
          expect(inside, `${match[0]} in ${JSON.stringify(line)}`).toBe(true);
        }
      }),
      { numRuns: 1500 },
    );
  });
});

describe('the help card', () => {
  it.each(DICTATION_HELP.flatMap(({ examples }) => examples))('teaches a line that works: %s', (line) => {
    const { understood: fields, notUnderstood: rest } = parseDictation(line);
    expect(fields.length).toBeGreaterThan(0);
    expect(rest).toEqual([]);
  });
});
