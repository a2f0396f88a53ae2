import { afterEach, expect, it, vi } from 'vitest';

const env = vi.hoisted(() => ({ DATABASE_PREPARED: true }));
vi.mock('@/lib/platform/env', async (load) => {
  const real = await load<typeof import('@/lib/platform/env')>();
  return { ...real, settings: () => ({ ...real.settings(), ...env }) };
});

import { closeDb, db } from '@/lib/platform/db';
import { makeBird, makeCollection } from '@/seed/factories';

afterEach(closeDb);

it.each([
  [true, 1],
  [false, 0],
])(
  'where statements may stay prepared is %s: of a read with relations that is asked often, %i stays, and it answers by what it is asked',
  async (isAllowed, many) => {
    env.DATABASE_PREPARED = isAllowed;
    const collectionId = await makeCollection(db());
    const birds = [await makeBird(db(), collectionId), await makeBird(db(), collectionId)];
    // One connection: what is prepared is known to it alone.
    await db().$transaction(async (tx) => {
      for (let turn = 0; turn < 15; turn += 1) {
        for (const { id } of birds) {
          const found = await tx.bird.findFirst({ where: { id }, include: { taxon: true, materials: true } });
          expect(found?.id).toBe(id);
          expect(found?.materials.map(({ birdId }) => birdId)).toEqual([id]);
        }
      }
      expect(
        await tx.$queryRaw`SELECT name FROM pg_prepared_statements WHERE name LIKE 'furcula%'`,
      ).toHaveLength(many);
    });
  },
);
