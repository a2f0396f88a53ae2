import bidiFactory from 'bidi-js';
import { chooseFont, type LoadedFont } from './fonts';
import type { Face, Span, TextElement } from './schema';

const bidi = bidiFactory();
const clusters = new Intl.Segmenter('en', { granularity: 'grapheme' });
const words = new Intl.Segmenter('en', { granularity: 'word' });

const pointsPerMm = 72 / 25.4;
const leading = 1.16;
/** Part of the line above the base line; fits the faces used here. */
const ascent = 0.9;
const sizeStepPt = 0.25;

/** A stretch drawn with one font, in the order in which it stands on paper. */
export type Run = { text: string; font: LoadedFont; widthEm: number };
export type FittedText = {
  sizePt: number;
  lines: { runs: Run[]; xMm: number; baselineMm: number }[];
};
export type TextProblem = { message: string };

type Token = { span: Span; hasSpaceBefore: boolean };

/** Width in em of a stretch in one font. */
function measure({ font }: LoadedFont, text: string): number {
  return font.layout(text).advanceWidth / font.unitsPerEm;
}

const spaceless = /[\u0e00-\u0eff\u1780-\u17ff\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af\uf900-\ufaff]/;

/** Pieces between which a line may break: at blanks, and between words in scripts that write none. */
function tokenise(paragraph: Span[]): Token[] {
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

type Stretch = { text: string; font: LoadedFont; level: number };

type Shaped = { runs: Run[]; missing: string[] };
const shaped = new Map<string, Shaped>();

/** Runs of a span as they stand on paper, and the signs no font has. A batch of labels repeats its words. */
function shapeSpan(span: Span): Shaped {
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

type Line = { runs: Run[]; widthEm: number };

function shapeLine(tokens: Token[]): Line {
  const runs = joinTokens(tokens).flatMap((span) => shapeSpan(span).runs);
  return { runs, widthEm: widthOf(runs) };
}

const widthOf = (runs: Run[]) => runs.reduce((sum, run) => sum + run.widthEm, 0);

/** Greedy lines; null when a single word is wider than the box. */
function breakLines(tokens: Token[], widthEm: number): Line[] | null {
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

/** Signs of a text that no font here can draw. */
export function listMissingSigns(paragraphs: Span[][]): string[] {
  const spans = paragraphs.flat().map(({ text, face }) => ({ text: text.normalize('NFC'), face }));
  const missing = spans.flatMap(
    (span) => shapeSpan({ ...span, text: span.text.replace(/[ \t\n]+/g, ' ') }).missing,
  );
  return [...new Set(missing)];
}

/**
 * Fits a text into its box: the largest size, in steps of a quarter point, at which every word fits.
 * @returns lines placed in mm on the label, or what is wrong in words
 */
export function fitText(element: TextElement): FittedText | TextProblem {
  const missing = listMissingSigns(element.paragraphs);
  if (missing.length > 0) {
    const codes = missing.map((sign) => `${sign} (U+${sign.codePointAt(0)?.toString(16).toUpperCase()})`);
    return { message: `No font here has the sign ${codes.join(', ')}.` };
  }
  const paragraphs = element.paragraphs.map(tokenise).filter((tokens) => tokens.length > 0);
  for (let sizePt = element.sizePt; sizePt >= element.leastSizePt - 1e-9; sizePt -= sizeStepPt) {
    const lines = breakParagraphs(paragraphs, (element.widthMm * pointsPerMm) / sizePt);
    const heightMm = (lines?.length ?? 0) * ((sizePt * leading) / pointsPerMm);
    if (lines && heightMm <= element.heightMm + 1e-6) return placeLines(element, lines, sizePt, heightMm);
  }
  const text = element.paragraphs.map((spans) => spans.map((span) => span.text).join('')).join(' / ');
  const { widthMm, heightMm, leastSizePt } = element;
  return {
    message:
      `"${text}" does not fit into ${round(widthMm)} × ${round(heightMm)} mm, not even at ${leastSizePt} pt. ` +
      'Shorten it or choose a larger label.',
  };
}

const round = (value: number) => Math.round(value * 10) / 10;

function breakParagraphs(paragraphs: Token[][], widthEm: number): Line[] | null {
  const all: Line[] = [];
  for (const tokens of paragraphs) {
    const lines = breakLines(tokens, widthEm);
    if (!lines) return null;
    all.push(...lines);
  }
  return all;
}

function placeLines(element: TextElement, lines: Line[], sizePt: number, heightMm: number): FittedText {
  const slackMm = element.heightMm - heightMm;
  const topMm =
    element.yMm + (element.valign === 'top' ? 0 : element.valign === 'middle' ? slackMm / 2 : slackMm);
  const emMm = sizePt / pointsPerMm;
  return {
    sizePt,
    lines: lines.map(({ runs, widthEm }, index) => {
      const spareMm = element.widthMm - widthEm * emMm;
      const indent = element.align === 'left' ? 0 : element.align === 'centre' ? spareMm / 2 : spareMm;
      return { runs, xMm: element.xMm + indent, baselineMm: topMm + (index * leading + ascent) * emMm };
    }),
  };
}

/** A span; the face defaults to the sans. */
export function span(text: string, face: Face = 'sans'): Span {
  return { text, face };
}
