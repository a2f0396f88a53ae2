import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { cursorInstant, readCursor } from '@/lib/platform/paging';
import type { NoticeListQuery, NoticeSubject, Preference } from '../schema';

/** Whose notices, and of which records they may hear now. */
export type Listener = {
  collectionId: string;
  personId: string;
  subjectTypes: readonly NoticeSubject[];
};

const shownTo = ({ collectionId, personId, subjectTypes }: Listener): Prisma.NoticeWhereInput => ({
  collectionId,
  personId,
  inApp: true,
  subjectType: { in: [...subjectTypes] },
});

/** One more notice than the page holds, newest first. */
export function findNotices(listener: Listener, { after, size, show }: NoticeListQuery) {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([cursorInstant, z.uuid()]));
  return db().notice.findMany({
    where: {
      ...shownTo(listener),
      ...(show === 'unread' ? { readAt: null } : {}),
      ...(last === undefined
        ? {}
        : { OR: [{ createdAt: { lt: last[0] } }, { createdAt: last[0], id: { lt: last[1] } }] }),
    },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: size + 1,
  });
}
export type FoundNotice = Awaited<ReturnType<typeof findNotices>>[number];

export const countUnread = (listener: Listener): Promise<number> =>
  db().notice.count({ where: { ...shownTo(listener), readAt: null } });

export const findNotice = (tx: Tx, listener: Listener, id: string): Promise<FoundNotice | null> =>
  tx.notice.findFirst({ where: { ...shownTo(listener), id } });

export const writeReadAt = async (tx: Tx, id: string, readAt: Date | null): Promise<number> =>
  (
    await tx.notice.updateMany({
      where: { id, readAt: readAt === null ? { not: null } : null },
      data: { readAt },
    })
  ).count;

/** Marks as read everything that is shown up to an instant. */
export const markAllRead = async (tx: Tx, listener: Listener, until: Date, at: Date): Promise<number> =>
  (
    await tx.notice.updateMany({
      where: { ...shownTo(listener), readAt: null, createdAt: { lte: until } },
      data: { readAt: at },
    })
  ).count;

export async function findWishes(
  tx: Tx,
  personIds: readonly string[],
  kind?: string,
): Promise<(Preference & { personId: string; kind: string })[]> {
  const rows = await tx.noticePreference.findMany({ where: { personId: { in: [...personIds] }, kind } });
  return rows.map((row) => ({ ...row, mail: row.mail as Preference['mail'] }));
}

export async function writeWish(
  tx: Tx,
  personId: string,
  kind: string,
  { inApp, mail }: Preference,
): Promise<void> {
  await tx.noticePreference.upsert({
    where: { personId_kind: { personId, kind } },
    create: { personId, kind, inApp, mail },
    update: { inApp, mail },
  });
}

/** Who was told of this announcement already: its job may come twice. */
export async function findTold(tx: Tx, announcementId: string): Promise<Set<string>> {
  const rows = await tx.notice.findMany({ where: { announcementId }, select: { personId: true } });
  return new Set(rows.map(({ personId }) => personId));
}

export const insertNotices = (
  tx: Tx,
  data: Prisma.NoticeCreateManyInput[],
): Promise<{ id: string; personId: string; mail: string }[]> =>
  tx.notice.createManyAndReturn({ data, select: { id: true, personId: true, mail: true } });

export const findEmail = (personId: string) =>
  db().person.findUniqueOrThrow({ where: { id: personId }, select: { email: true } });
