import { expect, it } from 'vitest';
import { db } from '@/lib/platform/db';
import { makeBird, makeCollection } from '@/seed/factories';

it('a read with relations that is asked often stays prepared at the database, and answers by what it is asked', async () => {
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
    ).toHaveLength(1);
  });
});
