import bidiFactory from 'bidi-js';
import { chooseFont, type Face, type LoadedFont, layOutWord } from './pdf-fonts';

const bidi = bidiFactory();
const words = new Intl.Segmenter('en', { granularity: 'word' });
const clusters = new Intl.Segmenter('en', { granularity: 'grapheme' });

export type Span = { text: string; face: Face };

/** A stretch drawn with one font, in the order in which it stands on paper. */
export type Run = { text: string; font: LoadedFont; widthEm: number };

/** Width in em of a stretch in one font, word by word with the blank behind it: so the writer of the PDF lays it out. */
function measure(font: LoadedFont, text: string): number {
  let width = 0;
  for (const word of text.match(/[^ \t]*[ \t]|[^ \t]+/g) ?? []) width += layOutWord(font, word).advanceWidth;
  return width / 1000;
}

type Stretch = { text: string; font: LoadedFont; level: number };

type Shaped = { runs: Run[]; missing: string[] };
const shaped = new Map<string, Shaped>();

/** Runs of a span as they stand on paper, and the signs no font has. Papers repeat their words. */
export function shapeSpan(span: Span): Shaped {
  const key = `${span.face} ${span.text}`;
  let known = shaped.get(key);
  if (!known) {
    known = shapeAfresh(span);
    if (shaped.size > 20_000) shaped.clear();
    shaped.set(key, known);
  }
  return known;
}

/** Splits by font and direction, and puts the stretches in the order of the paper (UAX 9, rule L2). */
function shapeAfresh(span: Span): Shaped {
  if (/^[\x20-\x7e]*$/.test(span.text)) return shapePlain(span);
  const missing: string[] = [];
  const { levels } = bidi.getEmbeddingLevels(span.text, 'ltr');
  const stretches: Stretch[] = [];
  for (const { segment, index } of clusters.segment(span.text)) {
    const font = chooseFont(span.face, segment);
    if (!font) {
      missing.push(segment);
      continue;
    }
    const level = levels[index] ?? 0;
    const last = stretches.at(-1);
    if (last && last.font === font && last.level === level) last.text += segment;
    else stretches.push({ text: segment, font, level });
  }
  const runs = reorder(stretches).map(({ text, font, level }) => {
    const drawn = level % 2 === 1 ? mirrorNeutrals(text) : text;
    return { text: drawn, font, widthEm: measure(font, drawn) };
  });
  return { runs, missing };
}

/** Plain letters need no other font and run one way. */
function shapePlain({ text, face }: Span): Shaped {
  const font = chooseFont(face, 'n');
  if (font === null || text === '') return { runs: [], missing: [] };
  return { runs: [{ text, font, widthEm: measure(font, text) }], missing: [] };
}

function reorder(stretches: Stretch[]): Stretch[] {
  const order = [...stretches];
  const highest = Math.max(0, ...order.map((stretch) => stretch.level));
  for (let level = highest; level >= 1; level -= 1) {
    for (let start = 0; start < order.length; start += 1) {
      let end = start;
      while (end < order.length && (order[end]?.level ?? 0) >= level) end += 1;
      if (end > start) order.splice(start, end - start, ...order.slice(start, end).reverse());
      start = Math.max(start, end);
    }
  }
  return order;
}

const rightToLeftLetter =
  /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;

/** The font engine turns letters around by itself; signs without a direction of their own it does not. */
function mirrorNeutrals(text: string): string {
  if (rightToLeftLetter.test(text)) return text;
  return [...text]
    .reverse()
    .map((sign) => bidi.getMirroredCharacter(sign) ?? sign)
    .join('');
}

export type Token = { span: Span; hasSpaceBefore: boolean };

const spaceless = /[\u0e00-\u0eff\u1780-\u17ff\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af\uf900-\ufaff]/;

/** Pieces between which a line may break: at blanks, and between words in scripts that write none. */
export function tokenise(paragraph: Span[]): Token[] {
  const tokens: Token[] = [];
  let isAfterSpace = false;
  for (const { text, face } of paragraph) {
    for (const piece of text.normalize('NFC').split(/([ \t\n]+)/)) {
      if (piece === '') continue;
      if (/^[ \t\n]+$/.test(piece)) {
        isAfterSpace = true;
        continue;
      }
      const parts = spaceless.test(piece) ? [...words.segment(piece)].map((part) => part.segment) : [piece];
      for (const part of parts) {
        tokens.push({ span: { text: part, face }, hasSpaceBefore: isAfterSpace && tokens.length > 0 });
        isAfterSpace = false;
      }
    }
  }
  return tokens;
}

/** Neighbouring tokens of one face as one text. */
function joinTokens(tokens: Token[]): Span[] {
  const spans: Span[] = [];
  for (const [index, { span, hasSpaceBefore }] of tokens.entries()) {
    const text = (hasSpaceBefore && index > 0 ? ' ' : '') + span.text;
    const last = spans.at(-1);
    if (last?.face === span.face) last.text += text;
    else spans.push({ text, face: span.face });
  }
  return spans;
}

/** One printed line. */
export type Line = { runs: Run[]; widthEm: number };

const widthOf = (runs: readonly Run[]) => runs.reduce((sum, run) => sum + run.widthEm, 0);

function shapeLine(tokens: Token[]): Line {
  const runs = joinTokens(tokens).flatMap((span) => shapeSpan(span).runs);
  return { runs, widthEm: widthOf(runs) };
}

/** Greedy lines; null when a single word is wider than that. */
export function breakLines(tokens: Token[], widthEm: number): Line[] | null {
  const rows: Token[][] = [];
  let row: Token[] = [];
  let used = 0;
  for (const token of tokens) {
    const word = widthOf(shapeSpan(token.span).runs);
    const space = token.hasSpaceBefore ? widthOf(shapeSpan({ ...token.span, text: ' ' }).runs) : 0;
    if (row.length > 0 && used + space + word > widthEm) {
      rows.push(row);
      row = [];
      used = 0;
    }
    used += (row.length > 0 ? space : 0) + word;
    row.push(token);
  }
  rows.push(row);
  // Kerning across words can still move a line by a hair, so the shaped line decides.
  const lines = rows.map(shapeLine);
  return lines.every((line) => line.widthEm <= widthEm) ? lines : null;
}
