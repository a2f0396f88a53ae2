import { describe, expect, it } from 'vitest';
import { SPOKEN } from '@/lib/bench/dictation/spoken';
import { FIELD_HELP } from '@/lib/bench/field-help';
import {
  FIELD_IDS,
  FIELDS,
  fieldsOfSection,
  isFieldId,
  listSections,
  parseFieldValue,
} from '@/lib/bench/fields';

describe('the field catalogue', () => {
  it('puts every field in exactly one section', () => {
    const listed = listSections().flatMap(({ fields }) => fields);
    expect([...listed].sort()).toEqual([...FIELD_IDS].sort());
    expect(fieldsOfSection('measurements')[0]).toBe('massG');
  });

  it.each(FIELD_IDS)('explains %s: what, how, source, and names its unit', (id) => {
    const { label, unit, kind } = FIELDS[id];
    const help = FIELD_HELP[id];
    for (const text of [label, help.what, help.how, help.source]) expect(text.length).toBeGreaterThan(2);
    expect(SPOKEN[id].say.length).toBeGreaterThan(0);
    if (/Mm$/.test(id)) expect([kind, unit]).toEqual(['number', 'mm']);
    if (/G$/.test(id)) expect([kind, unit]).toEqual(['number', 'g']);
    if (/Pct$/.test(id)) expect([kind, unit]).toEqual(['number', '%']);
  });

  it('knows its own identifiers only', () => {
    expect(isFieldId('wingMm')).toBe(true);
    expect(isFieldId('toString')).toBe(false);
  });

  it.each([
    ['wingMm', 94.5, 'chord'],
    ['leftTestis', { lengthMm: 9, widthMm: 6 }, null],
    ['bursa', { state: 'none' }, null],
    ['fat', { score: 2, scale: 'kaiser-1993' }, null],
    ['primaryMoult', '5555432100', null],
    ['stomachContents', ['two beetles', 'grit'], null],
    ['tissueVials', [{ vial: 2, kinds: ['liver', 'heart'] }], null],
  ] as const)('accepts %s %j', (field, value, method) => {
    expect(parseFieldValue(field, value, method)).toEqual({
      ok: true,
      value,
      unit: FIELDS[field].unit,
      method,
    });
  });

  it.each([
    ['wingMm', '94', null],
    ['wingMm', Number.NaN, null],
    ['wingMm', 94.00001, null],
    ['wingMm', 94, 'pressed-hard'],
    ['leftTestis', { lengthMm: -9 }, null],
    ['leftTestis', { lengthMm: 9, weight: 3 }, null],
    ['bursa', { state: 'none', lengthMm: 4 }, null],
    ['fat', { score: 9, scale: 'kaiser-1993' }, null],
    ['fat', { score: 2, scale: 'own' }, null],
    ['fat', 2, null],
    ['primaryMoult', '5556', null],
    ['sex', 'hen', null],
    ['remarks', ' ', null],
    [
      'tissueVials',
      [
        { vial: 2, kinds: ['liver'] },
        { vial: 2, kinds: ['heart'] },
      ],
      null,
    ],
  ] as const)('refuses %s %j with method %j and says why', (field, value, method) => {
    const parsed = parseFieldValue(field, value, method);
    expect(parsed.ok).toBe(false);
    if (!parsed.ok) expect(parsed.message).toContain(FIELDS[field].label);
  });
});
