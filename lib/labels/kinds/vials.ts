import { z } from 'zod';
import { codeAt, joinPresent, textAt } from '../elements';
import type { LabelElement, LabelSize } from '../schema';
import { span } from '../text';

/** Around the side of a vial: who it is even when the code is scratched. */
export const vialSideSchema = z.object({
  /** Number and suffix, as the code has it. */
  number: z.string().trim().min(1).max(40),
  scientificName: z.string().trim().min(1).max(120),
  tissues: z.string().trim().min(1).max(80),
  preservation: z.string().trim().min(1).max(60),
  sampledOn: z.iso.date().nullable(),
  amount: z.string().max(30).nullable(),
});
export type VialSide = z.infer<typeof vialSideSchema>;

const pad = 0.8;

export function layOutVialSide(vial: VialSide, size: LabelSize): LabelElement[] {
  const codeMm = Math.min(size.heightMm - 2 * pad, size.widthMm * 0.36);
  const textMm = size.widthMm - codeMm - 3 * pad;
  const numberMm = 3.4;
  return [
    codeAt('data-matrix', vial.number, {
      xMm: pad,
      yMm: (size.heightMm - codeMm) / 2,
      widthMm: codeMm,
      heightMm: codeMm,
    }),
    textAt(
      'number',
      { xMm: codeMm + 2 * pad, yMm: pad, widthMm: textMm, heightMm: numberMm },
      [[span(vial.number, 'sans-bold')]],
      { sizePt: 8, leastSizePt: 5 },
    ),
    textAt(
      'tissue',
      {
        xMm: codeMm + 2 * pad,
        yMm: pad + numberMm,
        widthMm: textMm,
        heightMm: size.heightMm - 2 * pad - numberMm,
      },
      [
        [span(vial.scientificName, 'serif-italic')],
        [span(joinPresent([vial.tissues, vial.preservation], ', '))],
        [span(joinPresent([vial.sampledOn, vial.amount], ', '))],
      ],
      { sizePt: 6.5, leastSizePt: 4.5 },
    ),
  ];
}

/** On the cap of a vial, seen from above in a box. */
export const vialCapSchema = z.object({
  number: z.string().trim().min(1).max(40),
  /** A few letters for the eye: "T1 L". */
  mark: z.string().trim().max(8).nullable(),
});
export type VialCap = z.infer<typeof vialCapSchema>;

/** The code in the square inside the circle, the mark under it. */
export function layOutVialCap(cap: VialCap, size: LabelSize): LabelElement[] {
  const diameter = Math.min(size.widthMm, size.heightMm);
  const markMm = cap.mark ? diameter * 0.2 : 0;
  // A square of side a with a strip of height m under it, half as wide, stays inside the circle for this a.
  const codeMm = Math.min(diameter * 0.68, diameter * 0.9 - markMm * 1.35);
  const top = cap.mark ? diameter * 0.115 : (diameter - codeMm) / 2;
  const elements: LabelElement[] = [
    codeAt('data-matrix', cap.number, {
      xMm: (size.widthMm - codeMm) / 2,
      yMm: top,
      widthMm: codeMm,
      heightMm: codeMm,
    }),
  ];
  if (cap.mark) {
    elements.push(
      textAt(
        'mark',
        {
          xMm: size.widthMm / 2 - diameter * 0.26,
          yMm: top + codeMm,
          widthMm: diameter * 0.52,
          heightMm: markMm,
        },
        [[span(cap.mark, 'sans-bold')]],
        { sizePt: 6, leastSizePt: 4 },
        { align: 'centre', valign: 'middle' },
      ),
    );
  }
  return elements;
}
