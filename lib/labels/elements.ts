import type { Span } from '@/lib/platform/pdf-text';
import type { CodeElement, LineElement, TextElement } from './schema';

/** Least module that scans from a 203 dpi printer; two dots of it. */
export const leastModuleMm = 0.25;

type Place = { xMm: number; yMm: number; widthMm: number; heightMm: number };

/** A text element with the usual defaults. */
export function textAt(
  field: string,
  place: Place,
  paragraphs: Span[][],
  sizes: { sizePt: number; leastSizePt: number },
  options: Partial<Pick<TextElement, 'align' | 'valign'>> = {},
): TextElement {
  return { type: 'text', field, ...place, paragraphs, ...sizes, align: 'left', valign: 'top', ...options };
}

/** A code element; modules between 0.25 mm and a size beyond which nothing is gained. */
export function codeAt(
  symbology: CodeElement['symbology'],
  content: string,
  place: Place,
  mostModuleMm = 1,
): CodeElement {
  return { type: 'code', field: 'code', symbology, content, ...place, leastModuleMm, mostModuleMm };
}

/** A level line. */
export function ruleAt(xMm: number, yMm: number, widthMm: number, isDashed = false): LineElement {
  return { type: 'line', x1Mm: xMm, y1Mm: yMm, x2Mm: xMm + widthMm, y2Mm: yMm, weightPt: 0.35, isDashed };
}

/** Present parts with a separator between them. */
export function joinPresent(parts: readonly (string | null | undefined | false)[], separator = '; '): string {
  return parts.filter((part) => typeof part === 'string' && part !== '').join(separator);
}
