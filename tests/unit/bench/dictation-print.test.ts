import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TISSUE_KINDS } from '@/lib/bench/catalogue/body';
import { parseDictation } from '@/lib/bench/dictation/parse';
import { printDictation } from '@/lib/bench/dictation/print';
import type { PrintableField } from '@/lib/bench/dictation/print-value';
import { FIELD_IDS, FIELDS, type FieldId, parseFieldValue } from '@/lib/bench/fields';
import { WORD_LINES } from '@/tests/unit/bench/dictation-lines-words';

const numberIn = (field: FieldId) => {
  const { min, max } = FIELDS[field].limits ?? { min: 1, max: 1 };
  return fc
    .oneof(
      fc.integer({ min: Math.ceil(min * 1000), max: Math.floor(max * 1000) }).map((value) => value / 1000),
      fc.constantFrom(min, max),
    )
    .filter((value) => FIELDS[field].value.safeParse(value).success || FIELDS[field].kind === 'size');
};

const words = fc.constantFrom(...new Set(WORD_LINES.flatMap(([line]) => line.split(/\s+/)).filter(Boolean)));
const text = (max: number) =>
  fc
    .oneof(
      fc.array(words, { minLength: 1, maxLength: 6 }).map((list) => list.join(' ')),
      fc.string({ unit: 'binary', minLength: 1, maxLength: 30 }),
      fc.constantFrom(
        'um',
        'a "quoted" \\ word',
        'line\nbreak',
        'tail 72; wing 94',
        'black and white',
        '3"',
        'no',
        ',',
        'correction',
      ),
    )
    .map((value) => value.trim().slice(0, max).trim())
    .filter((value) => value.length > 0);

const side = (field: FieldId) => numberIn(field).filter((value) => value >= 0.1);

function arbitraryValue(field: FieldId): fc.Arbitrary<unknown> {
  const spec = FIELDS[field];
  switch (spec.form) {
    case 'number':
    case 'skull':
      return numberIn(field);
    case 'size':
      return fc.record({ lengthMm: side(field), widthMm: side(field) }, { requiredKeys: ['lengthMm'] });
    case 'bursa':
      return fc.oneof(
        fc.constantFrom({ state: 'none' }, { state: 'present' }, { state: 'not-looked-for' }),
        fc.record(
          { state: fc.constant('present'), lengthMm: side(field), widthMm: side(field) },
          { requiredKeys: ['state', 'lengthMm'] },
        ),
      );
    case 'score':
      return fc
        .constantFrom(...spec.scales)
        .chain((scale) =>
          fc.record({ score: fc.integer({ min: 0, max: scale.max }), scale: fc.constant(scale.id) }),
        );
    case 'code':
      return fc.constantFrom(...spec.choices.map(({ id }) => id));
    case 'codes':
      return fc.uniqueArray(fc.constantFrom(...spec.choices.map(({ id }) => id)), { minLength: 1 });
    case 'digits':
      return fc.string({ unit: fc.constantFrom(...'012345'), minLength: 9, maxLength: 12 });
    case 'items':
      return fc.array(text(60), { minLength: 1, maxLength: 5 });
    case 'vials':
      return fc.uniqueArray(
        fc.record({
          vial: fc.integer({ min: 1, max: 99 }),
          kinds: fc.uniqueArray(fc.constantFrom(...TISSUE_KINDS.map(({ id }) => id)), {
            minLength: 1,
            maxLength: 6,
          }),
        }),
        { minLength: 1, maxLength: 4, selector: ({ vial }) => vial },
      );
    default:
      return text(100);
  }
}

const anyField: fc.Arbitrary<PrintableField> = fc.constantFrom(...FIELD_IDS).chain((field) => {
  const methods = [
    null,
    ...(FIELDS[field].form === 'number' ? FIELDS[field].methods.map(({ id }) => id) : []),
  ];
  return fc.record({
    field: fc.constant(field),
    value: arbitraryValue(field) as fc.Arbitrary<PrintableField['value']>,
    method: fc.constantFrom(...methods),
    correction: fc.boolean(),
  });
});

describe('printing a dictation', { timeout: 60_000 }, () => {
  it('has every generated value accepted by the catalogue', () => {
    fc.assert(
      fc.property(anyField, ({ field, value, method = null }) => {
        expect(parseFieldValue(field, value, method)).toMatchObject({ ok: true });
      }),
    );
  });

  it.each(FIELD_IDS)('and parsing it again is the identity for %s alone', (field) => {
    fc.assert(
      fc.property(arbitraryValue(field), (value) => {
        const item = { field, value: value as PrintableField['value'], method: null, correction: false };
        expectSame([item]);
      }),
      { numRuns: 60 },
    );
  });

  it('and parsing it again is the identity for whole lines', () => {
    fc.assert(fc.property(fc.array(anyField, { maxLength: 12 }), expectSame), { numRuns: 1000 });
  });
});

function expectSame(items: PrintableField[]): void {
  const line = printDictation(items);
  const { understood, notUnderstood } = parseDictation(line);
  const back = understood.map(({ field, value, method, correction }) => ({
    field,
    value,
    method,
    correction,
  }));
  expect({ line, notUnderstood, back }).toEqual({ line, notUnderstood: [], back: items });
}
