import { z } from 'zod';
import { codeAt, joinPresent, textAt } from '../elements';
import type { LabelElement, LabelSize } from '../schema';
import { span } from '../text';
import { sexSigns } from './specimen-tag';

const pad = 2;

/** The outside of a skeleton box. */
export const skeletonBoxSchema = z.object({
  institution: z.string().trim().min(1).max(80),
  number: z.string().trim().min(1).max(40),
  suffix: z.string().max(12).nullable(),
  scientificName: z.string().trim().min(1).max(120),
  family: z.string().max(60).nullable(),
  sex: z.enum(['female', 'male', 'undetermined']),
  age: z.string().max(60).nullable(),
  place: z.string().max(200).nullable(),
  date: z.string().max(60).nullable(),
  /** "partial: skull, left wing and right leg are with the skin" */
  contents: z.string().trim().min(1).max(300),
  boneCount: z.int().min(0).nullable(),
});
export type SkeletonBox = z.infer<typeof skeletonBoxSchema>;

export function layOutSkeletonBox(box: SkeletonBox, size: LabelSize): LabelElement[] {
  const number = joinPresent([box.number, box.suffix], '-');
  const widthMm = size.widthMm - 2 * pad;
  const codeMm = 10;
  const body = size.heightMm - 2 * pad - codeMm - 3;
  const count = box.boneCount === null ? null : `${box.boneCount} bones counted`;
  return [
    textAt(
      'number',
      { xMm: pad, yMm: pad, widthMm, heightMm: 7 },
      [[span(number, 'sans-bold'), span(` · ${sexSigns[box.sex]}${box.age ? `, ${box.age}` : ''}`)]],
      { sizePt: 15, leastSizePt: 9 },
    ),
    textAt(
      'name of the taxon',
      { xMm: pad, yMm: pad + 7, widthMm, heightMm: 6 },
      [[span(box.scientificName, 'serif-italic'), span(box.family ? ` · ${box.family}` : '')]],
      { sizePt: 12, leastSizePt: 7 },
    ),
    textAt(
      'contents',
      { xMm: pad, yMm: pad + 13.5, widthMm, heightMm: body - 13.5 },
      [
        [span(joinPresent([box.contents, count]))],
        [span(joinPresent([box.place, box.date]))],
        [span(box.institution)],
      ],
      { sizePt: 9, leastSizePt: 6 },
    ),
    codeAt(
      'code-128',
      number,
      { xMm: pad, yMm: size.heightMm - pad - codeMm - 0.5, widthMm, heightMm: codeMm },
      0.4,
    ),
  ];
}

/** A label on a freezer, rack, drawer or box. */
export const storageLabelSchema = z.object({
  name: z.string().trim().min(1).max(120),
  kind: z.string().trim().min(1).max(40),
  pathName: z.string().max(400),
  /** "−80 °C" */
  temperature: z.string().max(40).nullable(),
  takes: z.string().max(120).nullable(),
  code: z.string().trim().min(1).max(40),
});
export type StorageLabel = z.infer<typeof storageLabelSchema>;

export function layOutStorageLabel(label: StorageLabel, size: LabelSize): LabelElement[] {
  const codeMm = Math.min(size.heightMm - 2 * pad, 18);
  const textMm = size.widthMm - codeMm - 3 * pad;
  const head = size.heightMm * 0.34;
  return [
    textAt(
      'name',
      { xMm: pad, yMm: pad, widthMm: textMm, heightMm: head - pad },
      [[span(label.name, 'sans-bold')]],
      { sizePt: 16, leastSizePt: 8 },
    ),
    textAt(
      'path',
      { xMm: pad, yMm: head, widthMm: textMm, heightMm: size.heightMm - head - pad },
      [
        [span(label.pathName)],
        [span(joinPresent([label.temperature, label.takes]))],
        [span(label.code, 'sans-bold')],
      ],
      { sizePt: 8, leastSizePt: 5 },
    ),
    codeAt('data-matrix', label.code, {
      xMm: size.widthMm - codeMm - pad,
      yMm: (size.heightMm - codeMm) / 2,
      widthMm: codeMm,
      heightMm: codeMm,
    }),
  ];
}
