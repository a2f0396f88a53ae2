import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDictation } from '@/lib/bench/dictation/parse';
import { spellOut } from '@/lib/bench/dictation/spell-out';
import { suggestNext } from '@/lib/bench/dictation/suggest';
import { FIELD_IDS, type FieldId } from '@/lib/bench/fields';
import { PREPARATION_STYLE_DATA } from '@/lib/bench/style-data';
import { stepFields } from '@/lib/bench/styles';

const order = stepFields(PREPARATION_STYLE_DATA['skin-with-partial-skeleton']);
const suggest = (line: string, ...filled: FieldId[]) => suggestNext(line, { order, filled: new Set(filled) });

describe('suggestNext', () => {
  it.each([
    ['', 'mass '],
    ['mass 78.2', ' wing '],
    ['mass 78.2 ', 'wing '],
    ['mass 78.2 wing ch', 'ord '],
    ['mass 78.2 wing chord 128 tail 98 tarsus 31', ' exposed culmen '],
    ['sex f', 'emale '],
    ['left o', 'vary '],
    ['oviduct st', 'raight '],
    ['condition f', 'resh '],
    ['wing 94 ta', 'il '],
    ['cause of death window strike', '; between wings '],
    ['stomach two beetles', '; trauma '],
    ['left ovary 12 by 5', ' largest follicle '],
    ['left testis 9 by 6 right 8 by 5', ' bursa '],
  ])('"%s" goes on with "%s"', (line, rest) => expect(suggest(line)).toBe(rest));

  it('passes over what the record holds', () => {
    expect(suggest('', 'massG', 'wingMm')).toBe('tail ');
    expect(suggest('mass 78', 'wingMm')).toBe(' tail ');
    expect(suggest('', ...FIELD_IDS)).toBeNull();
  });

  it.each(['wing', 'wing 94 flurb', 'iris dark br', 'wing 94 tail'])('is silent after "%s"', (line) => {
    expect(suggest(line)).toBeNull();
  });

  it('never throws, and what it adds is understood as far as the line was', () => {
    fc.assert(
      fc.property(fc.string(), (line) => {
        const rest = suggest(line);
        if (rest !== null && line.trim() === '')
          expect(parseDictation(`${line}${rest}1`).notUnderstood).toHaveLength(0);
      }),
    );
  });
});

describe('spellOut', () => {
  it.each([
    ['→78.2→128.5→98', 'mass 78.2 wing 128.5 tail 98'],
    ['wing ch→128', 'wing chord 128'],
    ['sex f→→1', 'sex female vial 1'],
    ['wing 94', 'wing 94'],
    ['wing 94 flurb→12', 'wing 94 flurb12'],
  ])('"%s" is "%s"', (line, said) => expect(spellOut(line, (text) => suggest(text))).toBe(said));
});
