import { describe, expect, it } from 'vitest';
import { chooseFont, faces, layOutWord } from '@/lib/platform/pdf-fonts';

/** What the font engine itself says of a word, in thousandths of an em. */
function asked(face: (typeof faces)[number], word: string) {
  const loaded = chooseFont(face, 'n');
  if (loaded === null) throw new Error(`${face} has no font.`);
  const scale = 1000 / loaded.font.unitsPerEm;
  const { glyphs, positions } = loaded.font.layout(word);
  return {
    made: layOutWord(loaded, word),
    ids: glyphs.map(({ id }) => id),
    advances: positions.map(({ xAdvance }) => xAdvance * scale),
  };
}

describe('layOutWord', () => {
  const words = [
    'TP-1093',
    'AV-71',
    '2024-11-17',
    '0417',
    '11',
    '7',
    'fi-11',
    'Tawny',
    '(2024-01-02). ',
    '-',
    '--77',
  ];
  it.each(faces.flatMap((face) => words.map((word) => [face, word] as const)))(
    'in %s lays out %s as the font engine does',
    (face, word) => {
      const { made, ids, advances } = asked(face, word);
      expect(made.glyphs.map(({ id }) => id)).toEqual(ids);
      for (const [index, advance] of advances.entries()) {
        expect(made.positions[index]?.xAdvance).toBeCloseTo(advance, 6);
      }
      expect(made.advanceWidth).toBeCloseTo(
        advances.reduce((sum, advance) => sum + advance, 0),
        6,
      );
    },
  );
});
