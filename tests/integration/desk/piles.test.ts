import { expect, it } from 'vitest';
import { showDesk } from '@/lib/desk/piles';
import { desk } from '@/lib/desk/schema';
import { db } from '@/lib/platform/db';
import { makeActor, makeBird, makeCollection } from '@/seed/factories';

it.each([0, 5, 6, 7])(
  'a pile of %i says how many it has, whether they are all shown or not',
  async (many) => {
    const collectionId = await makeCollection(db());
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    const made = [];
    for (let at = 0; at < many; at += 1)
      made.push(await makeBird(db(), collectionId, { birdState: 'queued' }));
    const { piles } = desk.parse(await showDesk(volunteer));
    const next = piles.find(({ id }) => id === 'next');
    expect(next?.total).toBe(many);
    expect(next?.items).toHaveLength(Math.min(many, 6));
    expect(made.map(({ id }) => id)).toEqual(
      expect.arrayContaining(next?.items.map(({ id }) => id) ?? ['none']),
    );
  },
);
