import { z } from 'zod';

/** Kinds of labels that are printed from records, by their addresses. */
export const printedKinds = [
  'specimen-tag',
  'skeleton-box',
  'vial-side',
  'vial-cap',
  'carcass-bag',
  'storage',
] as const;
export const printedKind = z.enum(printedKinds);
export type PrintedKind = z.infer<typeof printedKind>;

const millimetres = z.coerce.number().min(-20).max(20).default(0);
const hundred = z.coerce.number().min(90).max(110).default(100);

export const labelParams = z.object({ kind: printedKind });
export const labelQuery = z
  .object({
    /**
     * Ids, parted by commas: of birds for tags and bags (of salvage records too), of materials for vials and skeleton
     * boxes, of units for storage.
     */
    ids: z
      .string()
      .optional()
      .transform((text) => (text === undefined || text === '' ? [] : text.split(',')))
      .pipe(z.array(z.uuid()).max(200, 'At most 200 labels at once: print them box by box.')),
    /** Instead of ids: everything of this kind in a unit of the store. */
    in: z.uuid().optional(),
    stock: z.string().max(60).optional(),
    startAt: z.coerce.number().int().min(1).default(1),
    offsetX: millimetres,
    offsetY: millimetres,
    measuredX: hundred,
    measuredY: hundred,
  })
  .refine((query) => (query.in === undefined) === query.ids.length > 0, {
    message: 'Say what the labels are for: ids, or the unit in which it all lies.',
    path: ['ids'],
  });
export type LabelQuery = z.output<typeof labelQuery>;

export const labelCheck = z.object({
  labels: z.number().int(),
  pages: z.number().int(),
  stock: z.string(),
  stocks: z.array(z.object({ id: z.string(), name: z.string(), perPage: z.number().int() })),
  /** What does not fit, label by label; printing is refused while there is any. */
  problems: z.array(
    z.object({ item: z.number().int(), label: z.string(), field: z.string(), message: z.string() }),
  ),
  /** Facts of the label minimum that the record lacks; the tag prints without them. */
  lacks: z.array(z.object({ label: z.string(), facts: z.array(z.string()) })),
});
export type LabelCheck = z.infer<typeof labelCheck>;
