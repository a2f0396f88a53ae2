import 'server-only';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import type { ElementId } from './elements';
import type { BoneEntry, BoxCountLine } from './schema';
import type { Side } from './words';

const withBook = {
  taxon: true,
  salvage: { select: { verbatimTaxon: true } },
  bench: true,
  bones: true,
} satisfies Prisma.BirdInclude;

export type BookBird = Prisma.BirdGetPayload<{ include: typeof withBook }>;

/** A bird with its bench record and bone book. */
export const findBookBird = (tx: Tx, collectionId: string, id: string): Promise<BookBird | null> =>
  tx.bird.findFirst({ where: { id, collectionId }, include: withBook });

/** The same for a caller that has found the bird within its scope already. */
export const findBookOf = (tx: Tx, birdId: string): Promise<BookBird | null> =>
  tx.bird.findUnique({ where: { id: birdId }, include: withBook });

/**
 * The books of several birds by bird, each a text of lines 'element/side/portion/state/place' parted by spaces, the
 * place left out where there is none. A bird without a line is not among them.
 */
export async function findBookTexts(tx: Tx, birdIds: readonly string[]): Promise<Map<string, string>> {
  // One text for each bird: of rows or arrays, half the time would go into reading the answer.
  const rows = await tx.$queryRaw<{ birdId: string; lines: string }[]>`
    SELECT "birdId", string_agg(concat_ws('/', element, side, portion, state, place), ' ') AS lines
    FROM "BoneEntry" WHERE "birdId" = ANY(${birdIds}::uuid[]) GROUP BY "birdId"`;
  return new Map(rows.map(({ birdId, lines }) => [birdId, lines]));
}

export const findMaterialIds = async (tx: Tx, birdId: string): Promise<string[]> =>
  (await tx.material.findMany({ where: { birdId }, select: { id: true } })).map(({ id }) => id);

/** Takes the next version of the bench record if it is open and still the one the person saw; 0 when it is not. */
export async function raiseRecord(
  tx: Tx,
  id: string,
  version: number,
  boneExplanation: string | null,
): Promise<number> {
  const { count } = await tx.benchRecord.updateMany({
    where: { id, version, state: { in: ['draft', 'returned'] } },
    data: { boneExplanation, version: { increment: 1 } },
  });
  return count;
}

/** Writes the lines of the elements that changed, in place of what stood there. */
export async function replaceEntries(
  tx: Tx,
  birdId: string,
  changed: readonly { element: ElementId; side: Side; after: readonly BoneEntry[] }[],
): Promise<void> {
  if (changed.length === 0) return;
  await tx.boneEntry.deleteMany({
    where: { birdId, OR: changed.map(({ element, side }) => ({ element, side })) },
  });
  await tx.boneEntry.createMany({
    data: changed.flatMap(({ after }) => after.map((entry) => ({ ...entry, birdId }))),
  });
}

/** The collection's settings document. */
export async function findSettings(tx: Tx, collectionId: string): Promise<unknown> {
  return (await tx.collection.findUniqueOrThrow({ where: { id: collectionId } })).settings;
}

/** The same, locked until the transaction ends. */
export async function lockSettings(tx: Tx, collectionId: string): Promise<unknown> {
  await tx.$queryRaw`SELECT id FROM "Collection" WHERE id = ${collectionId}::uuid FOR UPDATE`;
  return findSettings(tx, collectionId);
}

/** Writes the skeletons' part of the settings document and leaves the rest. */
export async function writeSettings(tx: Tx, collectionId: string, skeletons: object): Promise<void> {
  await tx.$executeRaw`UPDATE "Collection"
    SET settings = settings || jsonb_build_object('skeletons', ${JSON.stringify(skeletons)}::jsonb)
    WHERE id = ${collectionId}::uuid`;
}

/** How many skeletons lie in each step that is open, by 'procedure/step'. */
export async function countInSteps(tx: Tx, collectionId: string): Promise<Record<string, number>> {
  const rows = await tx.processStep.groupBy({
    by: ['procedureId', 'step'],
    where: { endedAt: null, procedureId: { not: null }, material: { collectionId, kind: 'skeleton' } },
    _count: { _all: true },
  });
  return Object.fromEntries(rows.map((row) => [`${row.procedureId}/${row.step}`, row._count._all]));
}

const withBox = {
  bird: { include: { ...withBook, catalogue: true } },
  steps: { orderBy: [{ startedAt: 'desc' }, { id: 'desc' }], take: 1 },
  boxCounts: {
    orderBy: { countedAt: 'desc' },
    take: 1,
    include: { questions: true },
  },
} satisfies Prisma.MaterialInclude;

export type BoxMaterial = Prisma.MaterialGetPayload<{ include: typeof withBox }>;

/** A skeleton with its latest step, its bird's bone book and its last count. */
export const findSkeleton = (tx: Tx, collectionId: string, id: string): Promise<BoxMaterial | null> =>
  tx.material.findFirst({ where: { id, collectionId, kind: 'skeleton' }, include: withBox });

/** Takes the next version of a skeleton if it is still the one the person saw; 0 when it is not. */
export async function raiseSkeleton(tx: Tx, id: string, version: number): Promise<number> {
  const { count } = await tx.material.updateMany({
    where: { id, version, kind: 'skeleton' },
    data: { version: { increment: 1 } },
  });
  return count;
}

export const insertCount = (
  tx: Tx,
  data: {
    materialId: string;
    lines: BoxCountLine[];
    note: string | null;
    countedById: string;
    countedAt: Date;
    questions: Omit<Prisma.BoneQuestionUncheckedCreateWithoutCountInput, 'id'>[];
  },
) => tx.boxCount.create({ data: { ...data, questions: { create: data.questions } } });

type Answer = { answer: string; answeredById: string; answeredAt: Date };

/** Answers every open question of a material's earlier counts. */
export async function answerEarlier(tx: Tx, materialId: string, answer: Answer): Promise<void> {
  await tx.boneQuestion.updateMany({ where: { count: { materialId }, answeredAt: null }, data: answer });
}

export const findQuestion = (tx: Tx, collectionId: string, id: string) =>
  tx.boneQuestion.findFirst({
    where: { id, count: { material: { collectionId } } },
    include: {
      count: { include: { material: { include: { bird: { include: { bench: true, catalogue: true } } } } } },
    },
  });

/** Answers one question if nobody has yet; 0 when somebody has. */
export async function answerQuestion(tx: Tx, id: string, answer: Answer): Promise<number> {
  const { count } = await tx.boneQuestion.updateMany({ where: { id, answeredAt: null }, data: answer });
  return count;
}

/** Every question of a skeleton, the latest first. */
export const findQuestions = (tx: Tx, materialId: string) =>
  tx.boneQuestion.findMany({
    where: { count: { materialId } },
    include: { count: { select: { countedAt: true } } },
    orderBy: [{ count: { countedAt: 'desc' } }, { id: 'asc' }],
  });

/** How many questions of each skeleton are open, and whether it was counted at all. */
export async function findBoxStates(
  tx: Tx,
  materialIds: readonly string[],
): Promise<Map<string, { counted: boolean; open: number }>> {
  const counts = await tx.boxCount.findMany({
    where: { materialId: { in: [...materialIds] } },
    select: { materialId: true, _count: { select: { questions: { where: { answeredAt: null } } } } },
  });
  const states = new Map<string, { counted: boolean; open: number }>();
  for (const { materialId, _count } of counts) {
    const before = states.get(materialId)?.open ?? 0;
    states.set(materialId, { counted: true, open: before + _count.questions });
  }
  return states;
}

export async function findNames(ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id): id is string => id !== null))];
  if (wanted.length === 0) return new Map();
  const people = await db().person.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
