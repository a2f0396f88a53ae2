import { z } from 'zod';
import { say } from '@/lib/platform/words/say';
import { chosenMaterials, processGroup, processQuery, processRow, stepDetails } from '@/lib/storage/schema';
import { ELEMENT_IDS, isDivisible, sidesOf } from './elements';
import { cleaningProcedureSchema, proceduresSchema, SKELETON_STATES } from './rules/cleaning';
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
        message: say('The {element} has no {side} side.', { element: entry.element, side: entry.side }),
      });
    }
    if (entry.portion !== 'whole' && !isDivisible(entry.element)) {
      context.addIssue({
        code: 'custom',
        path: ['portion'],
        message: say('The {element} goes in one piece.', { element: entry.element }),
      });
    }
    if (entry.state === 'missing' && entry.place !== null) {
      context.addIssue({ code: 'custom', path: ['place'], message: say('What is missing has no place.') });
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

/**
 * Save a bird's whole bone book in one go. An element that stands in it twice is refused; what is undecided or nowhere is
 * stored and reported.
 */
export const saveBoneBookRequest = z.strictObject({
  /** Version of the bench record that the person saw. */
  version: z.int32().min(0),
  entries: z.array(boneEntrySchema).max(300),
  /** Why the book need not balance, where it does not. */
  explanation: z.string().trim().max(2000).nullable().default(null),
});
export type SaveBoneBookRequest = z.input<typeof saveBoneBookRequest>;

export const birdParams = z.object({ birdId: z.uuid() });

const findingShape = z.object({
  code: z.string(),
  weight: z.enum(['stop', 'remark']),
  element: z.enum(ELEMENT_IDS),
  side: z.enum(SIDES),
  portion: z.enum(PORTIONS),
  message: z.string(),
});

const shareShape = z.object({
  expected: z.number(),
  present: z.number(),
  intact: z.number(),
  fraction: z.number(),
});

/** What the rules say of a book: whether it balances, why not, and how much of the bird the skeleton holds. */
export const bookVerdictShape = z.object({
  balanced: z.boolean(),
  /** It balances, or somebody said why not. */
  accountedFor: z.boolean(),
  findings: z.array(findingShape),
  skeleton: shareShape,
});

const damageShape = z.object({
  element: z.enum(ELEMENT_IDS),
  side: z.enum(SIDES),
  state: z.enum(['broken', 'missing']),
});

/** A bird's bone book with all that its drawing needs. */
export const boneBook = z.object({
  birdId: z.uuid(),
  birdNumber: z.string(),
  /** Whom this answer was made for: what a device keeps unsent is theirs alone. */
  readerId: z.uuid().nullable(),
  recordId: z.uuid().nullable(),
  version: z.int32(),
  styleId: z.string().nullable(),
  scientificName: z.string().nullable(),
  taxon: z.object({
    order: z.string().nullable(),
    family: z.string().nullable(),
    genus: z.string().nullable(),
    species: z.string().nullable(),
  }),
  usualSide: z.enum(['left', 'right']),
  entries: z.array(boneEntrySchema),
  explanation: z.string().nullable(),
  /** Breaks that the bench recorded, read as elements; what could not be read, as written. */
  recordedDamage: z.array(damageShape),
  unreadDamage: z.array(z.string()),
  verdict: bookVerdictShape,
  /** Why nobody may write now; null when the book is open. */
  lock: z.string().nullable(),
  abilities: z.object({ write: z.boolean() }),
});
export type BoneBook = z.output<typeof boneBook>;

/** One line of the count made when a skeleton is boxed: pieces in hand. */
export const boxCountLineSchema = z.strictObject({
  element: z.enum(ELEMENT_IDS),
  side: z.enum(SIDES),
  count: z.int().min(0).max(99),
});
export type BoxCountLine = z.infer<typeof boxCountLineSchema>;

export const saveBoxCountRequest = z.strictObject({
  /** Version of the material that the person saw. */
  version: z.int32().min(0),
  lines: z.array(boxCountLineSchema).min(1, 'Nothing was counted.').max(200),
  note: z.string().trim().max(2000).nullable().default(null),
});
export type SaveBoxCountRequest = z.input<typeof saveBoxCountRequest>;

export const answerRequest = z.strictObject({
  answer: z.string().trim().min(1, 'Write what was found out.').max(2000),
});

export const skeletonListQuery = processQuery.extend({ state: z.enum(SKELETON_STATES).optional() });
export type SkeletonListQuery = z.output<typeof skeletonListQuery>;

export const skeletonRow = processRow.extend({ openQuestions: z.number().int() });
export type SkeletonRow = z.infer<typeof skeletonRow>;
export const skeletonGroups = z.object({
  today: z.string(),
  groups: z.array(processGroup.extend({ rows: z.array(skeletonRow) })),
  procedures: z.array(cleaningProcedureSchema),
});
export type SkeletonGroups = z.infer<typeof skeletonGroups>;

/** Begin a procedure, or take up another one. */
export const chooseProcedureRequest = stepDetails
  .pick({ method: true, note: true, doneOn: true })
  .extend({ chosen: chosenMaterials, procedureId: z.string().min(1).max(60) });
export type ChooseProcedureRequest = z.infer<typeof chooseProcedureRequest>;

/** Move skeletons on together: each to its 'next' step, all to one step of their procedure, or to the 'shelf'. */
export const advanceSkeletonsRequest = stepDetails.extend({ to: z.string().min(1).max(60) });
export type AdvanceSkeletonsRequest = z.infer<typeof advanceSkeletonsRequest>;

const countedLine = z.object({
  element: z.enum(ELEMENT_IDS),
  side: z.enum(SIDES),
  expected: z.object({ min: z.int(), max: z.int() }),
  counted: z.int().nullable(),
  verdict: z.enum(['agrees', 'short', 'over', 'unexpected', 'not-counted']),
  question: z.string().nullable(),
});

export const boneQuestion = z.object({
  id: z.uuid(),
  element: z.enum(ELEMENT_IDS),
  side: z.enum(SIDES),
  question: z.string(),
  askedAt: z.string(),
  answer: z.string().nullable(),
  answeredAt: z.string().nullable(),
  answeredBy: z.string().nullable(),
});
export type BoneQuestion = z.infer<typeof boneQuestion>;

/** What the page of a skeleton shows beside the material itself. */
export const skeletonDetail = z.object({
  id: z.uuid(),
  label: z.string(),
  birdId: z.uuid(),
  version: z.int32(),
  state: z.enum(SKELETON_STATES),
  stepId: z.uuid().nullable(),
  step: z.string().nullable(),
  procedure: cleaningProcedureSchema.nullable(),
  procedures: z.array(cleaningProcedureSchema),
  /** What the book leads one to expect in the box, line by line, held against the last count where there is one. */
  box: z.array(countedLine),
  /** Whether the bone book itself accounts for every element. */
  bookBalanced: z.boolean(),
  lastCount: z.object({ at: z.string(), by: z.string(), note: z.string().nullable() }).nullable(),
  questions: z.array(boneQuestion),
  abilities: z.object({ advance: z.boolean(), count: z.boolean() }),
});
export type SkeletonDetail = z.output<typeof skeletonDetail>;

/** The lab's cleaning procedures, with what is lying in each of their steps. */
export const procedureBook = z.object({
  procedures: z.array(cleaningProcedureSchema),
  /** Changes with every save; a save names the one that the person saw. */
  stamp: z.string(),
  /** How many skeletons are in a step, by 'procedure/step'. */
  inUse: z.record(z.string(), z.number().int()),
  abilities: z.object({ change: z.boolean() }),
});
export type ProcedureBook = z.output<typeof procedureBook>;

export const saveProceduresRequest = z.strictObject({
  stamp: z.string().max(100),
  procedures: proceduresSchema,
  reason: z.string().trim().min(1, 'Say why.').max(500),
});
export type SaveProceduresRequest = z.infer<typeof saveProceduresRequest>;
