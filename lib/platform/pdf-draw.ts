import type { LoadedFont } from './pdf-fonts';
import type { Run } from './pdf-text';

type Glyphs = [
  codes: string[],
  positions: { xAdvance: number; advanceWidth: number; xOffset: number; yOffset: number }[],
];

/** What the writer of the PDF keeps of a document; not among its declared types. */
type Inside = {
  _font: {
    id: string;
    layoutCache: LoadedFont['words'];
    ref: () => unknown;
    encode: (text: string) => Glyphs;
  };
  page: { height: number; fonts: Record<string, unknown> };
};

type Drawing = {
  registered: Set<string>;
  current: LoadedFont | null;
  /** Texts as operands of TJ, by font: papers repeat their words. Null where a letter stands off the line. */
  operands: Map<LoadedFont, Map<string, string | null>>;
};

const drawings = new WeakMap<PDFKit.PDFDocument, Drawing>();

function drawingOf(doc: PDFKit.PDFDocument): Drawing {
  const known = drawings.get(doc);
  if (known !== undefined) return known;
  const fresh: Drawing = { registered: new Set(), current: null, operands: new Map() };
  drawings.set(doc, fresh);
  return fresh;
}

/** Embeds a font the first time a document needs it. */
function selectFont(doc: PDFKit.PDFDocument, drawing: Drawing, font: LoadedFont): void {
  if (drawing.current === font) return;
  const { file, bytes } = font;
  if (!drawing.registered.has(file)) doc.registerFont(file, bytes);
  drawing.registered.add(file);
  doc.font(file);
  drawing.current = font;
}

/** Glyph codes with the kerning between them (ISO 32000-1, 9.4.3: thousandths of an em, taken away). */
function encodeText([codes, positions]: Glyphs): string | null {
  const parts: string[] = [];
  let hex = '';
  for (const [index, { xAdvance, advanceWidth, xOffset, yOffset }] of positions.entries()) {
    if (xOffset !== 0 || yOffset !== 0) return null;
    hex += codes[index] ?? '';
    if (xAdvance === advanceWidth) continue;
    parts.push(`<${hex}> ${Number((advanceWidth - xAdvance).toFixed(3))}`);
    hex = '';
  }
  if (hex !== '') parts.push(`<${hex}>`);
  return `[${parts.join(' ')}] TJ`;
}

function operandOf(doc: PDFKit.PDFDocument, drawing: Drawing, { font, text }: Run): string | null {
  let known = drawing.operands.get(font);
  if (known === undefined) {
    known = new Map();
    drawing.operands.set(font, known);
  }
  let operand = known.get(text);
  if (operand === undefined) {
    // What was laid out to measure it is not laid out again to write it.
    (doc as unknown as Inside)._font.layoutCache = font.words;
    operand = encodeText((doc as unknown as Inside)._font.encode(text));
    known.set(text, operand);
  }
  return operand;
}

const figure = (value: number): string => String(Number(value.toFixed(3)));

/**
 * Draws shaped runs from a point on the base line; all lengths in the document's units. Text goes to the page's content
 * in one piece: a report has a hundred thousand cells.
 */
export function drawRuns(
  doc: PDFKit.PDFDocument,
  runs: readonly Run[],
  { x: left, baseline, size }: { x: number; baseline: number; size: number },
): void {
  const drawing = drawingOf(doc);
  const { page } = doc as unknown as Inside;
  let x = left;
  for (const run of runs) {
    selectFont(doc, drawing, run.font);
    const operand = operandOf(doc, drawing, run);
    if (operand === null) {
      doc.fontSize(size).text(run.text, x, baseline, { lineBreak: false, baseline: 'alphabetic' });
    } else {
      const { _font: font } = doc as unknown as Inside;
      page.fonts[font.id] ??= font.ref();
      const at = `1 0 0 1 ${figure(x)} ${figure(page.height - baseline)} Tm /${font.id} ${figure(size)} Tf`;
      const text = `q 1 0 0 -1 0 ${figure(page.height)} cm BT ${at} ${operand} ET Q\n`;
      doc.addContent(Buffer.from(text, 'latin1'));
    }
    x += run.widthEm * size;
  }
}
