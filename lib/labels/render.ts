import { once } from 'node:events';
import { PassThrough, type Writable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { finished } from 'node:stream/promises';
import PDFDocument from 'pdfkit';
import { drawRuns } from '@/lib/platform/pdf-draw';
import { type FittedCode, fitCode } from './codes';
import { type LabelContent, type LabelKind, labelKinds } from './kinds';
import {
  type LabelElement,
  type LabelProblem,
  type LabelStock,
  LabelsDoNotFitError,
  type LineElement,
  type PrintSettings,
  printSettingsSchema,
} from './schema';
import { type FittedText, fitText } from './text';

const pointsPerMm = 72 / 25.4;

type Fitted = { text: FittedText } | { code: FittedCode } | { line: LineElement };

/** Fits one label; every problem of it is answered, not just the first. */
function fitLabel(elements: LabelElement[], item: number): { fitted: Fitted[]; problems: LabelProblem[] } {
  const fitted: Fitted[] = [];
  const problems: LabelProblem[] = [];
  for (const element of elements) {
    if (element.type === 'line') {
      fitted.push({ line: element });
      continue;
    }
    const result = element.type === 'text' ? fitText(element) : fitCode(element);
    if ('message' in result) problems.push({ item, field: element.field, message: result.message });
    else fitted.push('lines' in result ? { text: result } : { code: result });
  }
  return { fitted, problems };
}

function layOutItem<Kind extends LabelKind>(kind: Kind, content: LabelContent<Kind>, stock: LabelStock) {
  const definition = labelKinds[kind];
  // The kind's own schema and layout belong together; the compiler cannot see that through the union.
  const layOut = definition.layOut as (content: unknown, size: LabelStock['label']) => LabelElement[];
  return layOut(definition.schema.parse(content), stock.label);
}

/** What would keep these labels from printing whole on this stock; empty when all is well. Prints nothing. */
export function checkLabels<Kind extends LabelKind>(
  kind: Kind,
  items: readonly LabelContent<Kind>[],
  stock: LabelStock,
): LabelProblem[] {
  return items.flatMap((item, index) => fitLabel(layOutItem(kind, item, stock), index + 1).problems);
}

/**
 * Writes labels as a PDF of exact size, one page a sheet or roll label, and ends the stream.
 * All labels are checked first: if one does not fit, LabelsDoNotFitError lists every problem and nothing is
 * written. Content is parsed by the kind's schema (ZodError if it is wrong).
 */
export async function writeLabels<Kind extends LabelKind>(
  kind: Kind,
  items: readonly LabelContent<Kind>[],
  stock: LabelStock,
  output: Writable,
  settings: Partial<PrintSettings> = {},
): Promise<void> {
  const print = printSettingsSchema.parse(settings);
  const perPage = stock.columns * stock.rows;
  if (print.startAt > perPage) {
    throw new RangeError(
      `A page of this stock has ${perPage} labels; label ${print.startAt} does not exist.`,
    );
  }
  if (items.length === 0) throw new RangeError('There is nothing to print.');
  const labels = items.map((item, index) => fitLabel(layOutItem(kind, item, stock), index + 1));
  const problems = labels.flatMap((label) => label.problems);
  if (problems.length > 0) throw new LabelsDoNotFitError(problems);

  const doc = new PDFDocument({
    autoFirstPage: false,
    margin: 0,
    info: { Title: labelKinds[kind].name, Creator: 'Furcula', Producer: 'Furcula' },
  });
  forbidScaling(doc);
  doc.pipe(output);
  for (const [index, { fitted }] of labels.entries()) {
    const slot = index + print.startAt - 1;
    if (index === 0 || slot % perPage === 0) {
      doc.addPage({ size: [stock.page.widthMm * pointsPerMm, stock.page.heightMm * pointsPerMm], margin: 0 });
    }
    doc.save();
    moveToLabel(doc, stock, print, slot % perPage);
    if (stock.hasCutLines) {
      doc
        .rect(0, 0, stock.label.widthMm, stock.label.heightMm)
        .lineWidth(0.1)
        .strokeColor('#999999')
        .stroke();
    }
    for (const part of fitted) draw(doc, part);
    doc.restore();
    if (output.writableNeedDrain) await once(output, 'drain');
  }
  doc.end();
  await finished(output, { readable: false });
}

/** Labels as one PDF in memory; see writeLabels. */
export async function renderLabels<Kind extends LabelKind>(
  kind: Kind,
  items: readonly LabelContent<Kind>[],
  stock: LabelStock,
  settings: Partial<PrintSettings> = {},
): Promise<Buffer> {
  const through = new PassThrough({ highWaterMark: 1 << 20 });
  const [bytes] = await Promise.all([buffer(through), writeLabels(kind, items, stock, through, settings)]);
  return bytes;
}

/** Asks the print dialog for 100 %: "fit to page" shrinks every label. The library has no call for it. */
function forbidScaling(doc: PDFKit.PDFDocument): void {
  const { _root: root } = doc as unknown as { _root: { data: Record<string, unknown> } };
  root.data.ViewerPreferences = doc.ref({ PrintScaling: 'None' });
}

/** From here on 1 unit is 1 mm as it comes out of this printer, from the label's top left. */
function moveToLabel(doc: PDFKit.PDFDocument, stock: LabelStock, print: PrintSettings, slot: number): void {
  const column = slot % stock.columns;
  const row = Math.floor(slot / stock.columns);
  const { offsetXMm, offsetYMm, measured100XMm, measured100YMm } = print.calibration;
  const scaleX = 100 / measured100XMm;
  const scaleY = 100 / measured100YMm;
  const xMm = stock.marginLeftMm + column * (stock.label.widthMm + stock.gapXMm);
  const yMm = stock.marginTopMm + row * (stock.label.heightMm + stock.gapYMm);
  doc.transform(
    pointsPerMm * scaleX,
    0,
    0,
    pointsPerMm * scaleY,
    (xMm * scaleX - offsetXMm) * pointsPerMm,
    (yMm * scaleY - offsetYMm) * pointsPerMm,
  );
}

function draw(doc: PDFKit.PDFDocument, part: Fitted): void {
  if ('line' in part) {
    const { x1Mm, y1Mm, x2Mm, y2Mm, weightPt, isDashed } = part.line;
    doc.lineWidth(weightPt / pointsPerMm).strokeColor('black');
    if (isDashed) doc.dash(1, { space: 1 });
    doc.moveTo(x1Mm, y1Mm).lineTo(x2Mm, y2Mm).stroke();
    if (isDashed) doc.undash();
  } else if ('code' in part) {
    // One path for the whole symbol: separate fills show hairlines between modules.
    for (const { xMm, yMm, widthMm, heightMm } of part.code.rects) doc.rect(xMm, yMm, widthMm, heightMm);
    doc.fillColor('black').fill();
  } else {
    const sizeMm = part.text.sizePt / pointsPerMm;
    doc.fillColor('black');
    for (const { runs, xMm, baselineMm } of part.text.lines) {
      drawRuns(doc, runs, { x: xMm, baseline: baselineMm, size: sizeMm });
    }
  }
}
