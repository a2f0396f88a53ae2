import 'server-only';
import { join } from 'node:path';
import PDFDocument from 'pdfkit';
import type { LoanRecord } from './wire';

/** Millimetres to points. */
const mm = (value: number) => (value * 72) / 25.4;
const MARGIN_MM = 18;

/** From the project's folder, since a bundled server has no module path to resolve from. */
const file = (name: string) => join(process.cwd(), 'node_modules', name);
const FACES = {
  sans: '@fontsource/source-sans-3/files/source-sans-3-latin-400-normal.woff',
  bold: '@fontsource/source-sans-3/files/source-sans-3-latin-700-normal.woff',
  italic: '@fontsource/source-serif-4/files/source-serif-4-latin-400-italic.woff',
  serif: '@fontsource/source-serif-4/files/source-serif-4-latin-600-normal.woff',
  // For whatever the Latin faces lack: ł, ♀, Cyrillic, Greek, Hebrew, Arabic.
  wide: 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf',
  'wide-bold': 'dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf',
} as const;
type Face = keyof typeof FACES;

/** Signs that the Latin files of the two families hold. */
const LATIN = /^[\u0020-\u007e\u00a0-\u00ff\u2013\u2014\u2018\u2019\u201c\u201d\u2022\u2026\u2212]*$/;
const faceFor = (face: Face, text: string): Face =>
  LATIN.test(text) ? face : face === 'bold' || face === 'serif' ? 'wide-bold' : 'wide';

export type PaperContext = { collection: string; address: string | null; printedOn: string };

const COPIES = ['Copy inside the box', 'Copy outside the box'] as const;

/** A document that draws in the loan's faces. */
class Paper {
  readonly pdf: PDFKit.PDFDocument;
  private readonly left = mm(MARGIN_MM);
  private readonly width: number;

  constructor(title: string) {
    this.pdf = new PDFDocument({
      size: 'A4',
      margin: mm(MARGIN_MM),
      autoFirstPage: false,
      bufferPages: true,
      info: { Title: title, Creator: 'Furcula' },
    });
    for (const [name, path] of Object.entries(FACES)) this.pdf.registerFont(name, file(path));
    this.width = mm(210 - 2 * MARGIN_MM);
  }

  private set(face: Face, size: number, text: string) {
    return this.pdf.font(faceFor(face, text)).fontSize(size);
  }

  line(text: string, face: Face = 'sans', size = 10): void {
    this.set(face, size, text).text(text, this.left, this.pdf.y, { width: this.width });
  }

  heading(text: string): void {
    this.pdf.moveDown(0.8);
    this.line(text, 'serif', 12);
    this.pdf.moveDown(0.2);
  }

  facts(rows: readonly (readonly [string, string | null])[]): void {
    for (const [term, value] of rows) {
      if (value === null || value === '') continue;
      const { y } = this.pdf;
      this.set('bold', 10, term).text(term, this.left, y, { width: mm(36) });
      const after = this.pdf.y;
      this.set('sans', 10, value).text(value, this.left + mm(38), y, { width: this.width - mm(38) });
      this.pdf.y = Math.max(after, this.pdf.y);
    }
  }

  table(heads: readonly { text: string; widthMm: number; face?: Face }[], rows: readonly string[][]): void {
    const cell = (text: string, face: Face) => ({ text, font: { src: faceFor(face, text), size: 9 } });
    this.pdf.x = this.left;
    this.pdf.table({
      columnStyles: heads.map(({ widthMm }) => mm(widthMm)),
      defaultStyle: { border: [0, 0, 0.5, 0], borderColor: '#888888', padding: 3 },
      data: [
        heads.map(({ text }) => cell(text, 'bold')),
        ...rows.map((row) => row.map((text, column) => cell(text, heads[column]?.face ?? 'sans'))),
      ],
    });
    this.pdf.x = this.left;
  }

  /** Two lines to sign on, kept together. */
  signatures(left: string, right: string): void {
    if (this.pdf.y > mm(255)) this.pdf.addPage();
    const y = this.pdf.y + mm(16);
    for (const [index, text] of [left, right].entries()) {
      const x = this.left + index * mm(90);
      this.pdf
        .moveTo(x, y)
        .lineTo(x + mm(78), y)
        .lineWidth(0.5)
        .stroke();
      this.set('sans', 8, text).text(text, x, y + 2, { width: mm(78) });
    }
    this.pdf.y = y + mm(8);
  }
}

function drawCopy(paper: Paper, copy: string, loan: LoanRecord, context: PaperContext): void {
  paper.pdf.addPage();
  paper.line(`${copy} · ${context.collection}`, 'bold', 9);
  paper.line(`${loan.kind === 'grant' ? 'Tissue grant' : 'Loan'} ${loan.number}`, 'serif', 20);
  paper.pdf.moveDown(0.4);
  paper.facts([
    ['From', [context.collection, context.address].filter(Boolean).join(', ')],
    [
      'To',
      [loan.borrower.institution, loan.borrower.contact, loan.borrower.address, loan.borrower.country]
        .filter(Boolean)
        .join(', '),
    ],
    ['Purpose', loan.purpose],
    ['Sent on', loan.sentOn],
    ['Due back on', loan.dueOn],
    ['Terms', loan.conditions],
  ]);
  paper.heading(`Materials: ${loan.lines.length}`);
  paper.table(
    [
      { text: 'Number', widthMm: 34, face: 'bold' },
      { text: 'Taxon', widthMm: 58, face: 'italic' },
      { text: 'Material', widthMm: 32 },
      { text: 'Condition as it went out', widthMm: 50 },
    ],
    loan.lines.map((line) => [
      line.label,
      line.scientificName,
      line.vial === null
        ? line.kind.replaceAll('-', ' ')
        : `${line.kind}, ${line.vial.amountLeft} ${line.vial.unit}`,
      line.conditionOut ?? '',
    ]),
  );
  if (loan.border.documents.length > 0) {
    paper.heading('Papers that go with this parcel');
    for (const { id, document, citation } of loan.border.documents) {
      const reference = loan.border.there.find(({ ruleId }) => ruleId === id)?.reference;
      paper.line(`${document}: ${reference ?? 'not there yet'}`, 'bold');
      paper.line(citation, 'sans', 8);
    }
  }
  paper.heading('Caution');
  paper.line(loan.border.caution, 'sans', 9);
  paper.signatures('For the collection: name, date, signature', 'For the borrower: name, date, signature');
}

/** Page numbers within each copy. */
function numberPages(paper: Paper, ends: readonly number[], label: string): void {
  let first = 0;
  for (const end of ends) {
    for (let page = first; page < end; page += 1) {
      paper.pdf.switchToPage(page);
      // Below the margin, where text would otherwise begin a new page.
      paper.pdf.page.margins.bottom = 0;
      paper.pdf.font(faceFor('sans', label)).fontSize(8);
      paper.pdf.text(`${label} · page ${page - first + 1} of ${end - first}`, mm(MARGIN_MM), mm(285), {
        lineBreak: false,
      });
    }
    first = end;
  }
}

/** The papers of a loan as PDF (A4): one copy for inside the box and one for outside, each with its own page numbers. */
export async function drawLoanPapers(loan: LoanRecord, context: PaperContext): Promise<Buffer> {
  const paper = new Paper(`Loan ${loan.number}`);
  const chunks: Buffer[] = [];
  const done = new Promise<Buffer>((resolve, reject) => {
    paper.pdf.on('data', (chunk: Buffer) => chunks.push(chunk));
    paper.pdf.on('end', () => resolve(Buffer.concat(chunks)));
    paper.pdf.on('error', reject);
  });
  const ends = COPIES.map((copy) => {
    drawCopy(paper, copy, loan, context);
    return paper.pdf.bufferedPageRange().count;
  });
  numberPages(paper, ends, `${loan.number}, printed ${context.printedOn}`);
  paper.pdf.end();
  return done;
}
