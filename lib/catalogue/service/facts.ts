import 'server-only';
import { deriveSex, fieldsOfSection, type RecordForReview } from '@/lib/bench/public';
import { dayOf } from '@/lib/platform/clock';
import type { MaterialKind } from '@/lib/queue/schema';
import { type BoneEntry, boneEntrySchema } from '@/lib/skeletons/schema';
import { workersOf } from '../policy';
import type { ListedRecord, ReviewedRecord } from '../repo/review';
import type { ReviewFacts } from '../rules';
import { reviewStateSchema, sexSchema } from '../schema';
import { readHeld } from '../shapes';

export type RecordWarning = RecordForReview['warnings'][number];

/** The bone book of a loaded record. */
export const bonesOf = ({ bird }: ReviewedRecord): BoneEntry[] =>
  bird.bones.map(({ birdId: _, ...entry }) => boneEntrySchema.parse(entry));

/** A line of the bone book as text, to be compared with the book at another time. */
export const boneLine = (bone: ReviewedRecord['bird']['bones'][number]): string =>
  [bone.element, bone.side, bone.portion, bone.state, bone.place ?? 'undecided'].join('/');

/** Fields of the bench that the sex of a bird is written in or follows from: all that these facts need of its values. */
export const SEXING_FIELDS = fieldsOfSection('sexing');
const EVIDENCE = new Set<string>(SEXING_FIELDS.filter((field) => field !== 'sex'));

/**
 * What the reviewer decides upon, from the loaded record and what keeps its bone book from balancing. `warnings` are
 * those of the bench, with their overrides.
 */
export function reviewFactsOf(
  record: ListedRecord,
  boneImbalances: readonly string[],
  warnings: readonly RecordWarning[],
): ReviewFacts {
  const { bird } = record;
  const { salvage } = bird;
  const values = readHeld(record.values);
  return {
    state: reviewStateSchema.parse(record.state),
    workerIds: workersOf({ ...record, enteredByIds: record.entries.map(({ enteredById }) => enteredById) }),
    boneImbalances,
    boneExplanation: record.boneExplanation,
    sex: sexIn(values),
    sexingEvidence: [...values.keys()].filter((field) => EVIDENCE.has(field)).length,
    sexReason: null,
    hasTaxon: bird.taxonId !== null,
    foundOn: dayOf(salvage.foundFrom),
    locality: salvage.locality,
    materialKinds: bird.materials.map(({ kind }) => kind as MaterialKind),
    holds: salvage.holds.map(({ reason }) => reason),
    coverage: salvage.coverage as ReviewFacts['coverage'],
    coverageRuled: salvage.coverageRuling !== null,
    openWarnings: warnings.filter(({ explained }) => explained === null).map(({ sentence }) => sentence),
    openRemarks: [],
  };
}

/** The sex as written at the bench, or as its evidence says; null when neither says anything. */
export const sexOf = (record: Pick<ReviewedRecord, 'values'>): ReviewFacts['sex'] =>
  sexIn(readHeld(record.values));

function sexIn(values: ReturnType<typeof readHeld>): ReviewFacts['sex'] {
  const written = sexSchema.safeParse(values.get('sex')?.value);
  if (written.success) return written.data;
  const plain = Object.fromEntries([...values].map(([field, { value }]) => [field, value]));
  const derived = deriveSex(plain).sex;
  return derived === 'undetermined' ? null : derived;
}
