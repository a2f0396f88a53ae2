import { randomUUID } from 'node:crypto';
import { approveRecord } from '@/lib/catalogue/service/review';
import type { Actor } from '@/lib/platform/actor';
import type { Db } from '@/lib/platform/db';
import { makeInReview } from './catalogue';
import { contextOf, makeActor } from './index';

export async function makeBorrower(db: Db, collectionId: string, country = 'US'): Promise<string> {
  const institution = `Test university ${randomUUID().slice(0, 4)}`;
  const made = await db.borrower.create({
    data: { collectionId, institution, contact: 'Test borrower', country },
  });
  return made.id;
}

/** A box of 3 × 3 positions in the deep cold. */
export async function makeBox(db: Db, collectionId: string): Promise<{ id: string; path: string }> {
  const code = `BX-${randomUUID().slice(0, 8)}`;
  const path = `Test room › ${code}`;
  const { id } = await db.storageUnit.create({
    data: { collectionId, kind: 'box', name: code, code, path, rows: 3, columns: 3, targetTempC: -80 },
  });
  return { id, path };
}

/** A catalogued bird whose skin, skeleton and wing lie in a box, at A1, A2 and A3, with vials T1… at B1… when asked for. */
export async function makeCatalogued(
  db: Db,
  curator: Actor,
  box: { id: string },
  input: { vials?: number } & Parameters<typeof makeInReview>[2] = {},
) {
  const { vials = 0, ...rest } = input;
  const { collectionId } = curator;
  const preparator = await makeActor(db, collectionId, 'preparator');
  const { bird, record, materials } = await makeInReview(db, preparator, rest);
  const tubes = await Promise.all(
    Array.from({ length: vials }, (_, index) =>
      db.material.create({
        data: {
          collectionId,
          birdId: bird.id,
          kind: 'vial',
          suffix: `T${index + 1}`,
          state: 'stored',
          vial: {
            create: {
              collectionId,
              code: `V-${bird.number}-${index + 1}`,
              tissues: ['liver'],
              preservation: 'frozen',
              container: 'cryovial',
              qualityReason: 'test',
              amount: 20,
              amountLeft: 20,
              filledById: preparator.personId ?? '',
            },
          },
        },
      }),
    ),
  );
  const placed = [...materials, ...tubes];
  await db.placement.createMany({
    data: placed.map(({ id }, index) => ({
      materialId: id,
      unitId: box.id,
      position: `${'ABC'[Math.floor(index / 3)]}${(index % 3) + 1}`,
    })),
  });
  const { catalogueNumber } = await approveRecord(contextOf(curator), record.id, {
    version: 1,
    explanations: {},
  });
  return { bird, catalogueNumber, materials: placed };
}
