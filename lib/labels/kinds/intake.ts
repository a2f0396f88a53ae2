import { z } from 'zod';
import { codeAt, joinPresent, ruleAt, textAt } from '../elements';
import type { LabelElement, LabelSize } from '../schema';
import { span } from '../text';

/** Tied to, or put in, the bag of a carcass. */
export const carcassBagSchema = z.object({
  number: z.string().trim().min(1).max(40),
  /** As known on arrival; an undetermined bird says so. */
  taxon: z.string().trim().min(1).max(120),
  isTaxonScientific: z.boolean(),
  foundOn: z.string().max(60).nullable(),
  place: z.string().max(200).nullable(),
  circumstances: z.string().max(120).nullable(),
  permit: z.string().max(80).nullable(),
  /** Why it must not be touched yet; printed large. */
  hold: z.string().max(80).nullable(),
});
export type CarcassBag = z.infer<typeof carcassBagSchema>;

export function layOutCarcassBag(bag: CarcassBag, size: LabelSize): LabelElement[] {
  const pad = 2.5;
  const codeMm = Math.min(size.heightMm * 0.5, 24);
  const textMm = size.widthMm - codeMm - 3 * pad;
  const holdMm = bag.hold ? 7 : 0;
  const bodyTop = pad + 15;
  const elements: LabelElement[] = [
    textAt(
      'number',
      { xMm: pad, yMm: pad, widthMm: textMm, heightMm: 9 },
      [[span(bag.number, 'sans-bold')]],
      { sizePt: 20, leastSizePt: 11 },
    ),
    textAt(
      'taxon',
      { xMm: pad, yMm: pad + 9, widthMm: textMm, heightMm: 6 },
      [[span(bag.taxon, bag.isTaxonScientific ? 'serif-italic' : 'sans')]],
      { sizePt: 12, leastSizePt: 7 },
    ),
    textAt(
      'find',
      { xMm: pad, yMm: bodyTop, widthMm: textMm, heightMm: size.heightMm - bodyTop - holdMm - pad },
      [
        [span(joinPresent([bag.foundOn, bag.place]))],
        [span(bag.circumstances ?? '')],
        [span(bag.permit ? `permit ${bag.permit}` : '')],
      ],
      { sizePt: 10, leastSizePt: 6 },
    ),
    codeAt('data-matrix', bag.number, {
      xMm: size.widthMm - codeMm - pad,
      yMm: pad,
      widthMm: codeMm,
      heightMm: codeMm,
    }),
  ];
  if (bag.hold) {
    const yMm = size.heightMm - pad - holdMm;
    elements.push(
      ruleAt(pad, yMm, size.widthMm - 2 * pad),
      textAt(
        'hold',
        { xMm: pad, yMm, widthMm: size.widthMm - 2 * pad, heightMm: holdMm },
        [[span(`ON HOLD: ${bag.hold}`, 'sans-bold')]],
        { sizePt: 13, leastSizePt: 8 },
        { valign: 'middle' },
      ),
    );
  }
  return elements;
}

/** At the freezer: a finder scans it, or fills it in by hand. */
export const dropOffSlipSchema = z.object({
  institution: z.string().trim().min(1).max(80),
  /** Address of the form; short addresses make coarse codes that any phone reads. */
  url: z.url().max(300),
  slipNumber: z.string().trim().min(1).max(40),
  contact: z.string().max(120).nullable(),
});
export type DropOffSlip = z.infer<typeof dropOffSlipSchema>;

const questions = [
  'Found on (date)',
  'Found at (place)',
  'How it was found',
  'Your name',
  'How to reach you',
];

export function layOutDropOffSlip(slip: DropOffSlip, size: LabelSize): LabelElement[] {
  const pad = 10;
  const codeMm = Math.min(size.widthMm * 0.24, size.heightMm * 0.36);
  const textMm = size.widthMm - codeMm - 3 * pad;
  const body = { sizePt: 12, leastSizePt: 8 };
  const rowsTop = pad + Math.max(codeMm, 44) + 6;
  const rowMm = Math.min(11, (size.heightMm - rowsTop - pad - 8) / questions.length);
  const labelMm = 38;
  return [
    textAt(
      'heading',
      { xMm: pad, yMm: pad, widthMm: textMm, heightMm: 10 },
      [[span(`A dead bird for ${slip.institution}`, 'serif-bold')]],
      { sizePt: 20, leastSizePt: 11 },
    ),
    textAt(
      'how to',
      { xMm: pad, yMm: pad + 12, widthMm: textMm, heightMm: Math.max(codeMm, 44) - 10 },
      [
        [
          span(
            'Scan the code with a phone and answer five questions, or fill in this slip. Then put both into one bag.',
          ),
        ],
        [
          span(
            'Do not touch the bird with bare hands; wash your hands afterwards. Several dead birds together, or a bird that looked ill: leave them and tell us. Local rules decide.',
          ),
        ],
        [span(slip.contact ? `Questions: ${slip.contact}` : '')],
      ],
      body,
    ),
    codeAt(
      'qr',
      slip.url,
      { xMm: size.widthMm - pad - codeMm, yMm: pad, widthMm: codeMm, heightMm: codeMm },
      2,
    ),
    ...questions.flatMap((question, index) => {
      const baseMm = rowsTop + (index + 1) * rowMm;
      return [
        textAt(
          'question',
          { xMm: pad, yMm: baseMm - 6, widthMm: labelMm, heightMm: 6 },
          [[span(question)]],
          { sizePt: 11, leastSizePt: 8 },
          { valign: 'bottom' },
        ),
        ruleAt(pad + labelMm, baseMm, size.widthMm - 2 * pad - labelMm),
      ];
    }),
    textAt(
      'slip number',
      { xMm: pad, yMm: size.heightMm - pad - 5, widthMm: size.widthMm - 2 * pad, heightMm: 6 },
      [[span(slip.slipNumber, 'sans-bold')]],
      { sizePt: 11, leastSizePt: 8 },
      { align: 'right', valign: 'bottom' },
    ),
  ];
}
