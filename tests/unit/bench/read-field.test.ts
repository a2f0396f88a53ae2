import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCommand } from '@/lib/bench/dictation/commands';
import { parseDictation } from '@/lib/bench/dictation/parse';
import { readFieldText } from '@/lib/bench/dictation/read-field';
import { writeFieldText } from '@/lib/bench/dictation/write-field';
import { FIELD_IDS, FIELDS, type FieldId } from '@/lib/bench/fields';

describe('readFieldText', () => {
  it.each<[FieldId, string, unknown, string | null]>([
    ['wingMm', '94', 94, null],
    ['wingMm', '3.7 in', 93.98, null],
    ['wingMm', 'chord 94,5', 94.5, 'chord'],
    ['leftTestis', '9 x 6', { lengthMm: 9, widthMm: 6 }, null],
    ['leftTestis', '9 by 6', { lengthMm: 9, widthMm: 6 }, null],
    ['leftOvary', '12', { lengthMm: 12 }, null],
    ['bursa', '5 by 3', { state: 'present', lengthMm: 5, widthMm: 3 }, null],
    ['bursa', 'none', { state: 'none' }, null],
    ['fat', '2 on kaiser', { score: 2, scale: 'kaiser-1993' }, null],
    ['skullOssificationPct', '80', 80, null],
    ['skullOssificationPct', 'fully ossified', 100, null],
    [
      'tissueVials',
      '1 liver and heart, vial 2 muscle',
      [
        { vial: 1, kinds: ['liver', 'heart'] },
        { vial: 2, kinds: ['muscle'] },
      ],
      null,
    ],
    ['stomachContents', 'two beetles, grit', ['two beetles', 'grit'], null],
    ['primaryMoult', '55554 32100', '5555432100', null],
    ['irisColour', '  dark brown with a pale ring ', 'dark brown with a pale ring', null],
    ['remarks', 'wing 94 was measured twice', 'wing 94 was measured twice', null],
  ])('%s: "%s"', (field, text, value, method) => {
    expect(readFieldText(field, text)).toMatchObject({ ok: true, value, method });
  });

  it.each<[FieldId, string]>([
    ['wingMm', 'long'],
    ['wingMm', '9400'],
    ['wingMm', '94 tail 71'],
    ['massG', '94 mm'],
    ['leftTestis', ''],
    ['primaryMoult', '5555'],
  ])('%s: "%s" is refused with a sentence', (field, text) => {
    const read = readFieldText(field, text);
    expect(read.ok).toBe(false);
    expect(read).toHaveProperty('message', expect.stringContaining(FIELDS[field].label));
  });

  it('never throws, whatever is typed', () => {
    fc.assert(
      fc.property(fc.constantFrom(...FIELD_IDS), fc.string(), (field, text) => {
        expect(typeof readFieldText(field, text).ok).toBe('boolean');
      }),
    );
  });

  it('reads back what it writes', () => {
    const line =
      'mass 61.2, wing chord 94; tail 71.5; left testis 9 by 6; bursa 5 by 3; fat 2 kaiser; primaries 5555432100; ' +
      'stomach two beetles, grit; liver and heart in vial two; iris dark brown; remarks none of note';
    const { understood, notUnderstood } = parseDictation(line);
    expect(notUnderstood).toEqual([]);
    for (const { field, value } of understood) {
      expect(readFieldText(field, writeFieldText(field, value))).toMatchObject({ ok: true, value });
    }
  });
});

describe('readCommand', () => {
  it('hears commands that are the whole line', () => {
    expect(readCommand('Undo!')).toBe('undo');
    expect(readCommand('  take that back ')).toBe('undo');
    expect(readCommand('next step')).toBe('step-done');
    expect(readCommand('undo wing')).toBeNull();
    expect(readCommand('constructor')).toBeNull();
  });

  it('takes no word that a field is called', () => {
    for (const said of ['undo', 'step done', 'help']) expect(parseDictation(said).understood).toEqual([]);
  });
});
