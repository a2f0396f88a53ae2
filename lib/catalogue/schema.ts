import { z } from 'zod';

/** State of a bench record on its way to the catalogue. */
export const REVIEW_STATES = ['draft', 'in-review', 'returned', 'approved'] as const;
export const reviewStateSchema = z.enum(REVIEW_STATES);
export type ReviewState = z.infer<typeof reviewStateSchema>;

export const SEXES = ['female', 'male', 'undetermined'] as const;
export const sexSchema = z.enum(SEXES);

/** A reviewer's remark on one field; the record comes back with all of them. */
export const reviewRemarkSchema = z.object({
  field: z.string().min(1),
  remark: z.string().trim().min(1).max(2000),
});
export type ReviewRemark = z.infer<typeof reviewRemarkSchema>;

const version = z.int().min(1);
export const sendToReviewSchema = z.object({ version });
export const returnWithRemarksSchema = z.object({ version, remarks: z.array(reviewRemarkSchema).min(1) });
export const approveSchema = z.object({ version });
export const amendSchema = z.object({
  version,
  field: z.string().min(1),
  after: z.json(),
  reason: z.string().trim().min(3).max(2000),
});

/** Taking a material out of the collection for good. */
export const deaccessionSchema = z.object({
  version,
  method: z.enum(['transferred', 'exchanged', 'repatriated', 'destroyed', 'lost']),
  on: z.iso.date(),
  authority: z.string().trim().min(1),
  documentId: z.uuid().nullable(),
  reason: z.string().trim().min(3),
});

export const determinationSchema = z.object({
  verbatim: z.string().trim().min(1).max(300),
  taxonId: z.uuid().nullable(),
  qualifier: z.enum(['cf.', 'aff.', '?']).nullable(),
  determinedBy: z.string().trim().min(1),
  determinedOn: z.iso.date(),
  remarks: z.string().max(2000).optional(),
});
