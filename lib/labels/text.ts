import type { Face } from '@/lib/platform/pdf-fonts';
import {
  breakLines,
  type Line,
  type Run,
  type Span,
  shapeSpan,
  type Token,
  tokenise,
} from '@/lib/platform/pdf-text';
import type { TextElement } from './schema';

const pointsPerMm = 72 / 25.4;
const leading = 1.16;
/** Part of the line above the base line; fits the faces used here. */
const ascent = 0.9;
const sizeStepPt = 0.25;

export type FittedText = {
  sizePt: number;
  lines: { runs: Run[]; xMm: number; baselineMm: number }[];
};
export type TextProblem = { message: string };

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
