import { z } from 'zod';

/** What a file may belong to. */
export const ATTACHMENT_SUBJECTS = ['permit', 'bird', 'salvage', 'accession', 'loan', 'loan-line'] as const;
export type AttachmentSubject = (typeof ATTACHMENT_SUBJECTS)[number];

/** The stored copies of a picture; a document has its original only. */
export const FILE_COPIES = ['original', 'public', 'thumb'] as const;
export type FileCopy = (typeof FILE_COPIES)[number];

export const LARGEST_FILE_BYTES = 40 * 1024 * 1024;

const subject = z.object({ subjectType: z.enum(ATTACHMENT_SUBJECTS), subjectId: z.uuid() });
const caption = z.string().trim().max(500);

export const attachmentListQuery = subject;
export type AttachmentListQuery = z.output<typeof attachmentListQuery>;

export const attachmentUpload = subject.extend({
  fileName: z.string().trim().min(1).max(200),
  caption: caption.optional(),
});
export type AttachmentUpload = z.output<typeof attachmentUpload>;

export const attachmentRow = z.object({
  id: z.uuid(),
  subjectType: z.enum(ATTACHMENT_SUBJECTS),
  subjectId: z.uuid(),
  fileName: z.string(),
  mediaType: z.string(),
  isPicture: z.boolean(),
  sizeBytes: z.number().int(),
  widthPx: z.number().int().nullable(),
  heightPx: z.number().int().nullable(),
  caption: z.string().nullable(),
  takenAt: z.string().nullable(),
  uploadedBy: z.string().nullable(),
  uploadedAt: z.string(),
  /** The camera wrote a place into the original. */
  hasPlace: z.boolean(),
  abilities: z.object({ original: z.boolean(), change: z.boolean() }),
});
export type AttachmentRow = z.infer<typeof attachmentRow>;

export const attachmentList = z.object({
  rows: z.array(attachmentRow),
  abilities: z.object({ add: z.boolean() }),
});
export type AttachmentList = z.infer<typeof attachmentList>;

export const attachmentParams = z.object({ id: z.uuid() });
export const fileQuery = z.object({ copy: z.enum(FILE_COPIES).default('public') });
export const captionRequest = z.object({ caption: caption.nullable() });
export const removeRequest = z.object({ reason: z.string().trim().min(3, 'Say why it goes.').max(500) });
export const removedAnswer = z.object({ id: z.uuid() });
