import type { Db } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { makeBird } from './index';

/** Makers of what comes after the bench: bench records, materials made of a bird, units to put them into. */
let serial = 0;
const next = (): number => {
  serial += 1;
  return serial;
};

/** A bird on the bench with its record. */
export async function makeBenchBird(
  db: Db,
  collectionId: string,
  input: {
    preparatorId: string;
    scribeId?: string;
    state?: string;
    styleId?: string;
    taxonId?: string;
    values?: Prisma.InputJsonObject;
  },
) {
  const styleId = input.styleId ?? 'skin-with-partial-skeleton';
  const bird = await makeBird(db, collectionId, {
    birdState: 'on-the-bench',
    claimedById: input.preparatorId,
    styleId,
    taxonId: input.taxonId,
  });
  const record = await db.benchRecord.create({
    data: {
      collectionId,
      birdId: bird.id,
      prepNumber: `TP ${next()}`,
      state: input.state ?? 'draft',
      styleId,
      preparatorId: input.preparatorId,
      scribeId: input.scribeId ?? null,
      values: input.values ?? {},
    },
  });
  return { ...bird, record };
}

const LETTERS: Record<string, string> = { skin: 'S', skeleton: 'B', wing: 'W', 'flat-skin': 'F', fluid: 'A' };

/** A material of a bird, as the bench makes it: no step begun. */
export async function makeMaterial(
  db: Db,
  input: {
    collectionId: string;
    birdId: string;
    kind: string;
    state?: string | null;
    suffix?: string;
    createdAt?: Date;
  },
) {
  const { kind, suffix = LETTERS[kind] ?? 'X1', state = null, ...rest } = input;
  return db.material.create({ data: { ...rest, kind, suffix, state } });
}

/** A unit of the store, a drawer unless said otherwise. */
export async function makeUnit(
  db: Db,
  collectionId: string,
  input: { kind?: string; name?: string; rows?: number; columns?: number; capacity?: number } = {},
): Promise<string> {
  const count = next();
  const name = input.name ?? `Drawer ${count}`;
  const made = await db.storageUnit.create({
    data: {
      collectionId,
      kind: input.kind ?? 'drawer',
      name,
      code: `U-${count}-${collectionId.slice(-6)}`,
      path: `Bird room › ${name}`,
      rows: input.rows ?? null,
      columns: input.columns ?? null,
      capacity: input.capacity ?? null,
    },
  });
  return made.id;
}
