import 'server-only';
import { z } from 'zod';
import type { Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { cursorInstant, readCursor } from '@/lib/platform/paging';
import type { CommentListQuery, Subject } from '../schema';

/** Of a bird also what was said about its find, its bench record and its materials. */
const about = (collectionId: string, { subjectType, subjectId }: Subject): Prisma.CommentWhereInput => ({
  collectionId,
  OR: [{ subjectType, subjectId }, ...(subjectType === 'bird' ? [{ birdId: subjectId }] : [])],
});

/** One more comment than the page holds, newest first; `onlyBy`: one person's own. */
export function findComments(
  db: Tx,
  collectionId: string,
  { after, size, ...subject }: CommentListQuery,
  onlyBy: string | undefined,
) {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([cursorInstant, z.uuid()]));
  return db.comment.findMany({
    where: {
      AND: [
        about(collectionId, subject),
        onlyBy === undefined ? {} : { authorId: onlyBy },
        last === undefined
          ? {}
          : { OR: [{ createdAt: { lt: last[0] } }, { createdAt: last[0], id: { lt: last[1] } }] },
      ],
    },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: size + 1,
  });
}
export type FoundComment = Awaited<ReturnType<typeof findComments>>[number];

export const countComments = (
  db: Tx,
  collectionId: string,
  subject: Subject,
  who: { onlyBy?: string; notBy?: string } = {},
) =>
  db.comment.count({
    where: {
      AND: [
        about(collectionId, subject),
        who.onlyBy === undefined ? {} : { authorId: who.onlyBy },
        who.notBy === undefined ? {} : { authorId: { not: who.notBy }, withdrawnAt: null },
      ],
    },
  });

export const findComment = (db: Tx, collectionId: string, id: string): Promise<FoundComment | null> =>
  db.comment.findFirst({ where: { id, collectionId } });

export const insertComment = (
  tx: Tx,
  data: Omit<Prisma.CommentUncheckedCreateInput, 'id'>,
): Promise<FoundComment> => tx.comment.create({ data });

/** Changes a standing comment whose version is still the one the person saw; 0 when it is not. */
export const updateComment = async (
  tx: Tx,
  { id, version }: { id: string; version: number },
  data: Pick<Prisma.CommentUncheckedUpdateManyInput, 'text' | 'editedAt' | 'withdrawnAt'>,
): Promise<number> =>
  (
    await tx.comment.updateMany({
      where: { id, version, withdrawnAt: null },
      data: { ...data, version: { increment: 1 } },
    })
  ).count;

/** Everybody who follows the record or its bird, or said that they do not want to. */
export async function findFollowers(
  db: Tx,
  { subjectType, subjectId }: Subject,
  birdId: string | null,
): Promise<{ personId: string; stopped: boolean }[]> {
  const rows = await db.follow.findMany({
    where: {
      OR: [
        { subjectType, subjectId },
        ...(birdId === null ? [] : [{ subjectType: 'bird', subjectId: birdId }]),
      ],
    },
  });
  // Whoever still follows one of the two is told.
  const followed = new Set(
    rows.filter(({ stoppedAt }) => stoppedAt === null).map(({ personId }) => personId),
  );
  return [...new Set(rows.map(({ personId }) => personId))].map((personId) => ({
    personId,
    stopped: !followed.has(personId),
  }));
}

export const findFollow = (db: Tx, personId: string, { subjectType, subjectId }: Subject) =>
  db.follow.findUnique({
    where: { personId_subjectType_subjectId: { personId, subjectType, subjectId } },
  });

export async function writeFollow(
  tx: Tx,
  follow: Subject & { personId: string; collectionId: string; at: Date; stopped: boolean },
): Promise<void> {
  const { personId, collectionId, subjectType, subjectId, at, stopped } = follow;
  const stoppedAt = stopped ? at : null;
  await tx.follow.upsert({
    where: { personId_subjectType_subjectId: { personId, subjectType, subjectId } },
    create: { personId, collectionId, subjectType, subjectId, createdAt: at, stoppedAt },
    update: { stoppedAt },
  });
}
