import type { Actor } from '@/lib/platform/actor';
import type { Db } from '@/lib/platform/db';
import { makeBird } from './index';

const hold = (value: unknown, by: string | null) => ({
  value,
  unit: null,
  method: null,
  verbatim: null,
  at: '2025-05-02T10:00:00.000Z',
  by,
});

/** The two bones of a right wing, whole, and a left humerus in the skeleton. */
const BONES = [
  { element: 'radius', side: 'right', place: 'wing' },
  { element: 'ulna', side: 'right', place: 'wing' },
  { element: 'humerus', side: 'left', place: 'skeleton' },
];

/** A prepared bird whose bench record waits at the review desk. */
export async function makeInReview(
  db: Db,
  preparator: Actor,
  input: Parameters<typeof makeBird>[2] & {
    values?: Record<string, unknown>;
    state?: string;
    bones?: { element: string; side: string; place: string; state?: string }[];
  } = {},
) {
  const { values = {}, state = 'in-review', bones = BONES, ...rest } = input;
  const { collectionId, personId } = preparator;
  const bird = await makeBird(db, collectionId, { birdState: 'prepared', ...rest });
  const materials = await db.material.createManyAndReturn({
    data: [
      { collectionId, birdId: bird.id, kind: 'skin', suffix: 'S', state: 'shelved' },
      { collectionId, birdId: bird.id, kind: 'skeleton', suffix: 'B', state: 'shelved' },
      { collectionId, birdId: bird.id, kind: 'wing', suffix: 'W' },
    ],
  });
  await db.material.updateMany({ where: { birdId: bird.id, kind: 'carcass' }, data: { custody: 'used-up' } });
  await db.boneEntry.createMany({ data: bones.map((bone) => ({ ...bone, birdId: bird.id })) });
  const all = { sex: 'female', leftOvary: { lengthMm: 7, widthMm: 4 }, massG: 78.2, wingMm: 128, ...values };
  const record = await db.benchRecord.create({
    data: {
      collectionId,
      birdId: bird.id,
      prepNumber: `TP ${bird.number}`,
      state,
      styleId: 'skin-with-partial-skeleton',
      preparatorId: personId ?? '',
      boneExplanation: 'Only these bones were kept.',
      sentAt: new Date('2025-05-03T10:00:00Z'),
      values: Object.fromEntries(
        Object.entries(all)
          .filter(([, value]) => value !== undefined)
          .map(([field, value]) => [field, hold(value, personId) as object]),
      ),
    },
  });
  return { bird, record, materials };
}
