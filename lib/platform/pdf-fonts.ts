import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { create, type Font, type GlyphPosition, type GlyphRun } from 'fontkit';
import { unwrapWoff } from './woff';

export const faces = ['sans', 'sans-bold', 'sans-italic', 'serif-bold', 'serif-italic'] as const;
/** The faces of printed papers. */
export type Face = (typeof faces)[number];

const subsets = ['latin', 'latin-ext', 'greek', 'greek-ext', 'cyrillic', 'cyrillic-ext', 'vietnamese'];
const serifSubsets = subsets.filter((subset) => subset !== 'greek-ext');

const sansFiles = (style: string) =>
  subsets.map((subset) => `@fontsource/source-sans-3/files/source-sans-3-${subset}-${style}.woff`);
const serifFiles = (style: string) =>
  serifSubsets.map((subset) => `@fontsource/source-serif-4/files/source-serif-4-${subset}-${style}.woff`);

/** Signs (♀ ♂ ⅔), Hebrew, Arabic, Armenian, Georgian and more; last a plain font with nearly all of Unicode. */
const wide = (name: string) => [
  `dejavu-fonts-ttf/ttf/${name}.ttf`,
  'dejavu-fonts-ttf/ttf/DejaVuSans.ttf',
  '@fontsource/unifontex/files/unifontex-latin-400-normal.woff',
];

/** Font files of each face, the first that has a sign draws it. */
const chains: Record<Face, string[]> = {
  sans: [...sansFiles('400-normal'), ...wide('DejaVuSans')],
  'sans-bold': [...sansFiles('700-normal'), ...wide('DejaVuSans-Bold')],
  'sans-italic': [...sansFiles('400-italic'), ...wide('DejaVuSans-Oblique')],
  'serif-bold': [...serifFiles('600-normal'), ...wide('DejaVuSerif-Bold')],
  'serif-italic': [...serifFiles('400-italic'), ...wide('DejaVuSerif-Italic')],
};

/** A word laid out, in thousandths of an em: the form in which the writer of the PDF keeps it. */
export type WordRun = {
  glyphs: GlyphRun['glyphs'];
  positions: (GlyphPosition & { advanceWidth: number })[];
  advanceWidth: number;
};

export type LoadedFont = {
  file: string;
  bytes: Buffer;
  font: Font;
  /** Words laid out so far, for every document of this process: papers repeat their words. */
  words: Record<string, WordRun>;
  wordCount: number;
};

const KEPT_WORDS = 20_000;

/** Lays out one word, with the blank behind it if it has one. */
export function layOutWord(loaded: LoadedFont, word: string): WordRun {
  const known = loaded.words[word];
  if (known !== undefined) return known;
  const run = layOutNumber(loaded, word) ?? layOutAfresh(loaded, word);
  if (loaded.wordCount >= KEPT_WORDS) {
    loaded.words = Object.create(null) as LoadedFont['words'];
    loaded.wordCount = 0;
  }
  loaded.words[word] = run;
  loaded.wordCount += 1;
  return run;
}

function layOutAfresh({ font }: LoadedFont, word: string): WordRun {
  const { glyphs, positions } = font.layout(word);
  const scale = 1000 / font.unitsPerEm;
  let advanceWidth = 0;
  const scaled = positions.map((position, index) => {
    advanceWidth += position.xAdvance * scale;
    return {
      xAdvance: position.xAdvance * scale,
      yAdvance: position.yAdvance * scale,
      xOffset: position.xOffset * scale,
      yOffset: position.yOffset * scale,
      advanceWidth: (glyphs[index]?.advanceWidth ?? 0) * scale,
    };
  });
  return { glyphs, positions: scaled, advanceWidth };
}

/**
 * Numbers are the words that no paper repeats. Where a font's digits do not move each other, "TP-" and the digits laid
 * out before make "TP-1234"; null for other words and fonts.
 */
function layOutNumber(loaded: LoadedFont, word: string): WordRun | null {
  const [, head, digits] = /^(.*-)?(\d{2,})$/.exec(word) ?? [];
  if (digits === undefined || !standsAlone(loaded)) return null;
  const parts = [...(head === undefined ? [] : [head]), ...digits].map((part) => layOutWord(loaded, part));
  return {
    glyphs: parts.flatMap(({ glyphs }) => glyphs),
    positions: parts.flatMap(({ positions }) => positions),
    advanceWidth: parts.reduce((sum, part) => sum + part.advanceWidth, 0),
  };
}

const aloneFonts = new WeakMap<LoadedFont, boolean>();

/** Whether a font draws each digit alike after a hyphen and after any digit. */
function standsAlone(loaded: LoadedFont): boolean {
  let isAlone = aloneFonts.get(loaded);
  if (isAlone === undefined) {
    const alone = new Map([...'-0123456789'].map((sign) => [sign, layOutAfresh(loaded, sign)]));
    isAlone = [...alone].every(([before, first]) =>
      [...alone].every(([sign, second]) => {
        const { glyphs, advanceWidth } = layOutAfresh(loaded, before + sign);
        return (
          advanceWidth === first.advanceWidth + second.advanceWidth &&
          glyphs[0]?.id === first.glyphs[0]?.id &&
          glyphs[1]?.id === second.glyphs[0]?.id
        );
      }),
    );
    aloneFonts.set(loaded, isAlone);
  }
  return isAlone;
}

const loaded = new Map<string, LoadedFont>();

/** Reads a font once per process. */
export function loadFont(file: string): LoadedFont {
  const known = loaded.get(file);
  if (known) return known;
  // From the project's folder, since a bundled server has no module path to resolve from.
  const bytes = unwrapWoff(readFileSync(join(process.cwd(), 'node_modules', file)));
  const font = create(bytes);
  if (!('hasGlyphForCodePoint' in font)) throw new Error(`${file} holds several fonts.`);
  const entry: LoadedFont = { file, bytes, font, words: Object.create(null), wordCount: 0 };
  loaded.set(file, entry);
  return entry;
}

const isInvisible = (codePoint: number) =>
  (codePoint >= 0x200b && codePoint <= 0x200f) || (codePoint >= 0xfe00 && codePoint <= 0xfe0f);

const chosen = new Map<string, LoadedFont | null>();

/** The font of a face's chain that draws a whole cluster (a letter with its marks); null if none can. */
export function chooseFont(face: Face, cluster: string): LoadedFont | null {
  const key = `${face} ${cluster}`;
  const known = chosen.get(key);
  if (known !== undefined) return known;
  const codePoints = [...cluster]
    .map((sign) => sign.codePointAt(0) ?? 0)
    .filter((code) => !isInvisible(code));
  const covers = (file: string) => {
    const { font } = loadFont(file);
    return codePoints.every((codePoint) => font.hasGlyphForCodePoint(codePoint));
  };
  const file = chains[face].find(covers);
  const font = file === undefined ? null : loadFont(file);
  // Names repeat signs; the bound only guards a long-running process.
  if (chosen.size > 20_000) chosen.clear();
  chosen.set(key, font);
  return font;
}
