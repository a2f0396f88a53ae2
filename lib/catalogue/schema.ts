import { z } from 'zod';
import { chosenBirds } from '@/lib/platform/bulk-wire';
import { givenDay } from '@/lib/platform/days';
import { phrases } from '@/lib/platform/words/say';

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

const version = z.int32().min(1);
export const returnWithRemarks = z.object({
  version,
  remarks: z.array(reviewRemarkSchema).min(1, 'Give at least one remark: what should be done?').max(100),
});
export type ReturnWithRemarks = z.infer<typeof returnWithRemarks>;

export const approveRequest = z.object({
  version,
  /** By the code of a point that stands in the way: why the record is right all the same. */
  explanations: z.record(z.string().max(60), z.string().trim().min(3).max(2000)).default({}),
});
export type ApproveRequest = z.infer<typeof approveRequest>;

export const amendRequest = z.object({
  /** The value that stood when the amendment was written; it must stand still. */
  before: z.json(),
  field: z.string().min(1).max(60),
  after: z.json(),
  reason: z.string().trim().min(3, 'Say why the record is changed.').max(2000),
});
export type AmendRequest = z.infer<typeof amendRequest>;

export const DEACCESSION_METHODS = ['transferred', 'exchanged', 'repatriated', 'destroyed', 'lost'] as const;

const day = givenDay();

/** Ways of leaving that have somebody who receives. */
export const HANDED_OVER: readonly (typeof DEACCESSION_METHODS)[number][] = [
  'transferred',
  'exchanged',
  'repatriated',
];

const orNobody = z.string().trim().max(300).nullish();

/** Taking a material out of the collection for good. */
const deaccessionShape = z.object({
  materialId: z.uuid(),
  version,
  method: z.enum(DEACCESSION_METHODS),
  on: day,
  recipient: orNobody,
  /** Permit or other authority under which the recipient holds it. */
  recipientAuthority: orNobody,
  /** Who saw it destroyed. */
  witness: orNobody,
  authority: z.string().trim().min(1, 'Say who decided: a person or a committee.').max(300),
  document: z.string().trim().min(1, 'Give the reference of the paper that says so.').max(300),
  documentId: z.uuid().nullish(),
  reason: z.string().trim().min(3, 'Say why.').max(2000),
});
export const deaccessionRequest = phrases(
  deaccessionShape.refine(({ method, recipient }) => !HANDED_OVER.includes(method) || Boolean(recipient), {
    path: ['recipient'],
    message: 'Say who receives it.',
  }),
);
export type DeaccessionRequest = z.infer<typeof deaccessionRequest>;

export const QUALIFIERS = ['cf.', 'aff.', '?'] as const;

export const determinationRequest = z.object({
  verbatim: z.string().trim().min(1, 'Write the name as the identifier gave it.').max(300),
  taxonId: z.uuid().nullable(),
  qualifier: z.enum(QUALIFIERS).nullable(),
  determinedBy: z.string().trim().min(1, 'Say who identified it.').max(200),
  determinedOn: day,
  remarks: z.string().trim().max(2000).nullish(),
});
export type DeterminationRequest = z.infer<typeof determinationRequest>;

/** One identification for several birds. */
export const determineBirdsRequest = determinationRequest.extend(chosenBirds.shape);
export type DetermineBirdsRequest = z.infer<typeof determineBirdsRequest>;

export const saveViewRequest = z.object({
  name: z.string().trim().min(1, 'Give the view a name.').max(80),
  /** The address of the list after the question mark. */
  query: z.string().max(4000),
  shared: z.boolean().default(false),
});
export type SaveViewRequest = z.infer<typeof saveViewRequest>;
