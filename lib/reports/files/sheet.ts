import PDFDocument from 'pdfkit';
import { drawRuns } from '@/lib/platform/pdf-draw';
import { breakLines, type Line, type Span, shapeSpan, tokenise } from '@/lib/platform/pdf-text';

const MARGIN = 36;
const FOOT = 34;
const LEADING = 1.25;
const ASCENT = 0.95;

export type Cell = string | Span[];
export type TableColumn = { head: string /** Share of the width. */; width: number; numeric?: boolean };
type TextOptions = { size?: number; face?: Span['face']; gap?: number };

const spansOf = (cell: Cell, face: Span['face']): Span[] =>
  typeof cell === 'string' ? [{ text: cell, face }] : cell;

/** Pages in black on white, filled from the top; lengths in points. */
export class Sheet {
  readonly doc: PDFKit.PDFDocument;
  private readonly chunks: Buffer[] = [];
  private readonly wrapped = new Map<string, Line[]>();
  private y = MARGIN;
  /** Draws the heads of the table that goes on. */
  private onNewPage: (() => void) | null = null;

  constructor(size: 'LETTER' | 'A4', title: string) {
    this.doc = new PDFDocument({
      size,
      layout: 'landscape',
      margin: 0,
      bufferPages: true,
      info: { Title: title, Creator: 'Furcula', Producer: 'Furcula' },
    });
    this.doc.on('data', (chunk: Buffer) => this.chunks.push(chunk));
  }

  get width(): number {
    return this.doc.page.width - 2 * MARGIN;
  }

  /** Goes to a new page unless this much is left. */
  need(height: number): void {
    if (this.y + height <= this.doc.page.height - MARGIN - FOOT) return;
    this.doc.addPage();
    this.y = MARGIN;
    this.onNewPage?.();
  }

  space(height: number): void {
    this.y += height;
  }

  text(cell: Cell, { size = 9.5, face = 'sans', gap = 4 }: TextOptions = {}): void {
    for (const line of this.wrap(cell, face, size, this.width)) {
      this.need(size * LEADING);
      this.drawLine(line, MARGIN, size);
      this.y += size * LEADING;
    }
    this.y += gap;
  }

  heading(words: string): void {
    this.need(60);
    this.space(8);
    this.text(words, { size: 13, face: 'serif-bold', gap: 4 });
  }

  /** Label and value side by side, in pairs of columns. */
  facts(pairs: readonly (readonly [string, string])[]): void {
    const columns = [
      { head: '', width: 1 },
      { head: '', width: 2.4 },
    ];
    this.rows(
      [...columns, ...columns],
      Array.from({ length: Math.ceil(pairs.length / 2) }, (_, index) => {
        const [left, right] = [pairs[2 * index], pairs[2 * index + 1]];
        return { cells: [left?.[0] ?? '', left?.[1] ?? '', right?.[0] ?? '', right?.[1] ?? ''] };
      }),
      9.5,
    );
    this.space(4);
  }

  /** Large numbers with their words below and the signs between them. */
  equation(parts: readonly { sign: string; label: string; value: number }[]): void {
    this.need(52);
    const step = this.width / parts.length;
    for (const [index, { sign, label, value }] of parts.entries()) {
      const x = MARGIN + index * step;
      const words = `${index === 0 && sign === '+' ? '' : `${sign} `}${value}`;
      for (const [cell, size, face, dy] of [
        [words, 18, 'serif-bold', 20],
        [label, 8.5, 'sans', 33],
      ] as const) {
        const [line] = this.wrap(cell, face, size, step);
        if (line) drawRuns(this.doc, line.runs, { x, baseline: this.y + dy, size });
      }
    }
    this.y += 44;
  }

  /** A table whose heads stand on each page. A row's note goes below it, over the whole width. */
  table(
    columns: readonly TableColumn[],
    rows: Iterable<{ cells: Cell[]; note?: string; strong?: boolean }>,
    size = 8,
  ): void {
    const drawHeads = () => {
      this.rows(columns, [{ cells: columns.map(({ head }) => head), strong: true }], size);
      this.rule(0.8);
      this.space(2);
    };
    this.need(size * LEADING * 4);
    drawHeads();
    this.onNewPage = drawHeads;
    this.rows(columns, rows, size, true);
    this.onNewPage = null;
    this.rule(0.8);
    this.space(6);
  }

  rule(weight: number): void {
    this.doc
      .moveTo(MARGIN, this.y)
      .lineTo(MARGIN + this.width, this.y)
      .lineWidth(weight)
      .strokeColor('black')
      .stroke();
    this.y += 1;
  }

  /** Writes the foot of each page, and answers the whole file. */
  async finish(foot: (page: number, pages: number) => [string, string]): Promise<Buffer> {
    const { start, count } = this.doc.bufferedPageRange();
    for (let index = 0; index < count; index += 1) {
      this.doc.switchToPage(start + index);
      const [left, right] = foot(index + 1, count);
      this.y = this.doc.page.height - MARGIN - 14;
      this.rule(0.4);
      const size = 7.5;
      const [last] = this.wrap(right, 'sans', size, this.width);
      const [first] = this.wrap(left, 'sans', size, this.width);
      if (first) this.drawLine(first, MARGIN, size);
      if (last) this.drawLine(last, MARGIN + this.width - last.widthEm * size, size);
    }
    const done = new Promise<void>((resolve, reject) => this.doc.on('end', resolve).on('error', reject));
    this.doc.end();
    await done;
    return Buffer.concat(this.chunks);
  }

  private rows(
    columns: readonly TableColumn[],
    rows: Iterable<{ cells: Cell[]; note?: string; strong?: boolean }>,
    size: number,
    ruled = false,
  ): void {
    const shares = columns.reduce((sum, { width }) => sum + width, 0);
    const widths = columns.map(({ width }) => (width / shares) * this.width);
    const padding = 5;
    for (const { cells, note, strong } of rows) {
      const face = strong ? 'sans-bold' : 'sans';
      const lines = cells.map((cell, index) => this.wrap(cell, face, size, (widths[index] ?? 0) - padding));
      const below = note === undefined ? [] : this.wrap(note, 'sans-italic', size, this.width - 24);
      const height = Math.max(1, ...lines.map((cell) => cell.length));
      this.need((height + below.length) * size * LEADING + 4);
      if (ruled) this.hairline();
      let x = MARGIN;
      for (const [index, cell] of lines.entries()) {
        const width = widths[index] ?? 0;
        for (const [row, line] of cell.entries()) {
          const spare = columns[index]?.numeric ? width - padding - line.widthEm * size : 0;
          this.drawLine(line, x + spare, size, row);
        }
        x += width;
      }
      this.y += height * size * LEADING;
      for (const line of below) {
        this.drawLine(line, MARGIN + 24, size);
        this.y += size * LEADING;
      }
      this.y += 3;
    }
  }

  private hairline(): void {
    this.doc
      .moveTo(MARGIN, this.y - 1)
      .lineTo(MARGIN + this.width, this.y - 1)
      .lineWidth(0.25)
      .strokeColor('black')
      .stroke();
  }

  private drawLine(line: Line, x: number, size: number, row = 0): void {
    drawRuns(this.doc, line.runs, {
      x,
      baseline: this.y + (row * LEADING + ASCENT) * size,
      size,
    });
  }

  /** Lines of a text in a width. A word wider than that is broken where it must. */
  private wrap(cell: Cell, face: Span['face'], size: number, width: number): Line[] {
    const spans = spansOf(cell, face).filter(({ text }) => text !== '');
    if (spans.length === 0) return [];
    const key = `${size} ${width} ${spans.map((span) => `${span.face} ${span.text}`).join('\n')}`;
    const known = this.wrapped.get(key);
    if (known !== undefined) return known;
    const lines = onOneLine(spans, width / size) ?? breakAnyhow(spans, width / size);
    this.wrapped.set(key, lines);
    return lines;
  }
}

/** Most cells need no breaking. */
function onOneLine(spans: Span[], widthEm: number): Line[] | null {
  if (spans.some(({ text }) => text.includes('\n'))) return null;
  const runs = spans.flatMap((span) => shapeSpan(span).runs);
  const used = runs.reduce((sum, run) => sum + run.widthEm, 0);
  return used <= widthEm ? [{ runs, widthEm: used }] : null;
}

function breakAnyhow(spans: Span[], widthEm: number): Line[] {
  for (let longest = 40; longest >= 1; longest = Math.floor(longest / 2)) {
    const lines = breakLines(
      tokenise(longest === 40 ? spans : spans.map((span) => cut(span, longest))),
      widthEm,
    );
    if (lines !== null) return lines;
  }
  return [];
}

const cut = (span: Span, longest: number): Span => ({
  ...span,
  text: span.text.replace(new RegExp(`(\\S{${longest}})(?=\\S)`, 'gu'), '$1 '),
});
