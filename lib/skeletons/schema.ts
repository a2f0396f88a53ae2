import { z } from 'zod';
import { ELEMENT_IDS, isDivisible, sidesOf } from './elements';
import { ELEMENT_STATES, PLACES, PORTIONS, SIDES } from './words';

/** One line of the bone book. `place` null: not yet decided, or the element is missing. */
export const boneEntrySchema = z
  .strictObject({
    element: z.enum(ELEMENT_IDS),
    side: z.enum(SIDES),
    portion: z.enum(PORTIONS).default('whole'),
    state: z.enum(ELEMENT_STATES).default('whole'),
    place: z.enum(PLACES).nullable().default(null),
    /** The one material it went to, where the bird has several of a kind. */
    materialId: z.uuid().nullable().default(null),
    note: z.string().trim().max(500).nullable().default(null),
  })
  .superRefine((entry, context) => {
    if (!sidesOf(entry.element).includes(entry.side)) {
      context.addIssue({
        code: 'custom',
        path: ['side'],
        message: `The ${entry.element} has no ${entry.side} side.`,
      });
    }
    if (entry.portion !== 'whole' && !isDivisible(entry.element)) {
      context.addIssue({
        code: 'custom',
        path: ['portion'],
        message: `The ${entry.element} goes in one piece.`,
      });
    }
  });
export type BoneEntry = z.infer<typeof boneEntrySchema>;

/** What may change about one entry; the element, side and portion are its name. */
export const bonePatchSchema = z.strictObject({
  state: z.enum(ELEMENT_STATES).optional(),
  place: z.enum(PLACES).nullable().optional(),
  materialId: z.uuid().nullable().optional(),
  note: z.string().trim().max(500).nullable().optional(),
});
export type BonePatch = z.infer<typeof bonePatchSchema>;

/** Save a bird's whole bone book in one go. Contradictions are stored and reported, never refused. */
export const saveBoneBookRequest = z.strictObject({
  version: z.int().min(0),
  entries: z.array(boneEntrySchema).max(300),
  /** Why the book need not balance, where it does not. */
  explanation: z.string().trim().max(2000).nullable().default(null),
});
export type SaveBoneBookRequest = z.infer<typeof saveBoneBookRequest>;

/** One line of the count made when a skeleton is boxed: pieces in hand. */
export const boxCountLineSchema = z.strictObject({
  element: z.enum(ELEMENT_IDS),
  side: z.enum(SIDES),
  count: z.int().min(0).max(99),
});
export type BoxCountLine = z.infer<typeof boxCountLineSchema>;

export const saveBoxCountRequest = z.strictObject({
  version: z.int().min(0),
  lines: z.array(boxCountLineSchema).max(200),
  note: z.string().trim().max(2000).nullable().default(null),
});
export type SaveBoxCountRequest = z.infer<typeof saveBoxCountRequest>;
