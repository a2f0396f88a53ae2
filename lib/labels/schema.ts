import { z } from 'zod';
import type { Span } from '@/lib/platform/pdf-text';

const mm = z.number().min(0).max(2000);

/** A sheet or roll as data: everything in millimetres from the top left of the page as it comes out. */
export const labelStockSchema = z
  .object({
    id: z.string().min(1),
    name: z.string().min(1),
    /** On a roll each page is one label wide and long as `page` says. */
    form: z.enum(['sheet', 'roll']),
    page: z.object({ widthMm: mm.gt(0), heightMm: mm.gt(0) }),
    label: z.object({ widthMm: mm.gt(0), heightMm: mm.gt(0), isRound: z.boolean().default(false) }),
    columns: z.int().min(1).max(100),
    rows: z.int().min(1).max(200),
    marginLeftMm: mm,
    marginTopMm: mm,
    gapXMm: mm,
    gapYMm: mm,
    /** Plain stock that is cut by hand gets hairlines to cut along. */
    hasCutLines: z.boolean().default(false),
  })
  .superRefine((stock, context) => {
    const right =
      stock.marginLeftMm + stock.columns * stock.label.widthMm + (stock.columns - 1) * stock.gapXMm;
    const bottom = stock.marginTopMm + stock.rows * stock.label.heightMm + (stock.rows - 1) * stock.gapYMm;
    // A tenth of a millimetre is below what any printer holds.
    if (right > stock.page.widthMm + 0.1) {
      context.addIssue({
        code: 'custom',
        path: ['columns'],
        message: `The labels need ${right} mm in width.`,
      });
    }
    if (bottom > stock.page.heightMm + 0.1) {
      context.addIssue({
        code: 'custom',
        path: ['rows'],
        message: `The labels need ${bottom} mm in height.`,
      });
    }
  });
export type LabelStock = z.infer<typeof labelStockSchema>;

export const printSettingsSchema = z.object({
  /** First label to use on the first sheet, from 1, counted along rows. */
  startAt: z.int().min(1).default(1),
  /** What a ruler on a test print says the printer is off by. */
  calibration: z
    .object({
      offsetXMm: z.number().min(-20).max(20).default(0),
      offsetYMm: z.number().min(-20).max(20).default(0),
      /** Printed length of 100 mm along each side, as measured. */
      measured100XMm: z.number().min(90).max(110).default(100),
      measured100YMm: z.number().min(90).max(110).default(100),
    })
    .prefault({}),
});
export type PrintSettings = z.infer<typeof printSettingsSchema>;

export type LabelSize = { widthMm: number; heightMm: number };

type Box = { xMm: number; yMm: number; widthMm: number; heightMm: number };

/** Text in a box: shrinks from `sizePt` to `leastSizePt`; what does not fit then is a problem, never cut. */
export type TextElement = Box & {
  type: 'text';
  /** What it is, for messages: "locality". */
  field: string;
  paragraphs: Span[][];
  sizePt: number;
  leastSizePt: number;
  align: 'left' | 'centre' | 'right';
  valign: 'top' | 'middle' | 'bottom';
};

export const symbologies = ['data-matrix', 'qr', 'code-128'] as const;
export type Symbology = (typeof symbologies)[number];

/** A code in a box that includes its quiet zone. */
export type CodeElement = Box & {
  type: 'code';
  field: string;
  symbology: Symbology;
  content: string;
  leastModuleMm: number;
  mostModuleMm: number;
};

export type LineElement = {
  type: 'line';
  x1Mm: number;
  y1Mm: number;
  x2Mm: number;
  y2Mm: number;
  weightPt: number;
  isDashed: boolean;
};

export type LabelElement = TextElement | CodeElement | LineElement;

/** What keeps a label from being printed as it is; `item` counts from 1. */
export type LabelProblem = { item: number; field: string; message: string };

/** Thrown before anything is printed; carries every problem of the whole batch. */
export class LabelsDoNotFitError extends Error {
  constructor(readonly problems: LabelProblem[]) {
    super(
      problems.map((problem) => `Label ${problem.item}, ${problem.field}: ${problem.message}`).join('\n'),
    );
    this.name = 'LabelsDoNotFitError';
  }
}
