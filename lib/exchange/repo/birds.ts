import 'server-only';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';

const BATCH = 250;

export type BirdScope = { collectionId: string; approvedOnly: boolean; since: Date | null };

const include = {
  taxon: true,
  salvage: { include: { permit: true, accession: true } },
  bench: true,
  catalogue: true,
  determinations: { orderBy: { recordedAt: 'asc' } },
  materials: {
    include: {
      vial: true,
      deaccession: true,
      placement: { include: { unit: { select: { targetTempC: true } } } },
      loanLines: { where: { sentAt: { not: null } }, include: { loan: { include: { borrower: true } } } },
    },
    orderBy: { suffix: 'asc' },
  },
} satisfies Prisma.BirdInclude;

export type FullBird = Prisma.BirdGetPayload<{ include: typeof include }>;
export type FullMaterial = FullBird['materials'][number];
type KnownTaxon = NonNullable<FullBird['taxon']>;

/** What a batch of birds needs beside their own rows. */
export type BirdBatch = {
  birds: FullBird[];
  people: ReadonlyMap<string, string>;
  taxa: ReadonlyMap<string, KnownTaxon>;
  /** When the last event of a bird's story was written. */
  changedAt: ReadonlyMap<string, Date>;
};

const scopeOf = ({ collectionId, approvedOnly }: BirdScope): Prisma.BirdWhereInput => ({
  collectionId,
  catalogue: approvedOnly ? { isNot: null } : undefined,
});

/** Birds in the order of their ids, a batch at a time, so that memory does not grow with their number. */
export async function* readBirds(tx: Tx, scope: BirdScope): AsyncGenerator<BirdBatch> {
  let last: string | undefined;
  for (;;) {
    const birds = await tx.bird.findMany({
      where: { ...scopeOf(scope), id: last === undefined ? undefined : { gt: last } },
      include,
      orderBy: { id: 'asc' },
      take: BATCH,
    });
    if (birds.length === 0) return;
    last = birds.at(-1)?.id;
    const changedAt = await findLastChanges(
      tx,
      birds.map((bird) => bird.id),
    );
    const { since } = scope;
    const wanted =
      since === null ? birds : birds.filter((bird) => (changedAt.get(bird.id) ?? bird.createdAt) >= since);
    yield {
      birds: wanted,
      changedAt,
      people: await namePreparators(tx, wanted),
      taxa: await findDeterminedTaxa(tx, wanted),
    };
  }
}

async function findLastChanges(tx: Tx, ids: string[]): Promise<Map<string, Date>> {
  const rows = await tx.auditEvent.groupBy({
    by: ['birdId'],
    where: { birdId: { in: ids } },
    _max: { at: true },
  });
  return new Map(
    rows.flatMap((row) =>
      row.birdId === null || row._max.at === null ? [] : [[row.birdId, row._max.at] as const],
    ),
  );
}

async function namePreparators(tx: Tx, birds: readonly FullBird[]): Promise<Map<string, string>> {
  const ids = new Set(birds.flatMap((bird) => [bird.bench?.preparatorId, bird.bench?.scribeId]));
  const known = [...ids].filter((id) => id !== null && id !== undefined);
  if (known.length === 0) return new Map();
  const people = await tx.person.findMany({ where: { id: { in: known } }, select: { id: true, name: true } });
  return new Map(people.map(({ id, name }) => [id, name]));
}

async function findDeterminedTaxa(tx: Tx, birds: readonly FullBird[]): Promise<Map<string, KnownTaxon>> {
  const ids = new Set(birds.flatMap((bird) => bird.determinations.flatMap((one) => one.taxonId ?? [])));
  if (ids.size === 0) return new Map();
  const taxa = await tx.taxon.findMany({ where: { id: { in: [...ids] } } });
  return new Map(taxa.map((taxon) => [taxon.id, taxon]));
}

export const countBirds = (tx: Tx, scope: BirdScope) => tx.bird.count({ where: scopeOf(scope) });

export const countSensitive = (tx: Tx, scope: BirdScope) =>
  tx.bird.count({ where: { ...scopeOf(scope), taxon: { sensitive: true } } });

export const findCollection = (tx: Tx, id: string) => tx.collection.findUniqueOrThrow({ where: { id } });

/** Days and rectangle of the finds; null when there are none. */
export async function measureCoverage(tx: Tx, scope: BirdScope) {
  const { _min, _max } = await tx.salvageRecord.aggregate({
    where: { collectionId: scope.collectionId, bird: scopeOf(scope) },
    _min: { foundFrom: true, latitude: true, longitude: true },
    _max: { foundTo: true, latitude: true, longitude: true },
  });
  return { least: _min, most: _max };
}
