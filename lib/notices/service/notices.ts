import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { notFound } from '@/lib/platform/errors';
import { canMail } from '@/lib/platform/mail';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { noticeEvents } from '../events';
import { readContent } from '../kinds';
import { hearableSubjects } from '../policy';
import {
  countUnread,
  type FoundNotice,
  findEmail,
  findNotice,
  findNotices,
  findWishes,
  type Listener,
  markAllRead,
  writeReadAt,
  writeWish,
} from '../repo/notices';
import { noticeHref, sayNotice } from '../rules/sentences';
import { allPreferences } from '../rules/telling';
import {
  type NoticeListQuery,
  type NoticePage,
  type NoticeRow,
  noticeSubject,
  type Preferences,
  type PreferencesRequest,
} from '../schema';

const listenerOf = (actor: Actor): Listener => ({
  collectionId: actor.collectionId,
  personId: personOf(actor),
  subjectTypes: hearableSubjects(actor),
});

function toRow(row: FoundNotice): NoticeRow {
  const content = readContent(row.kind, row.facts);
  return {
    id: row.id,
    kind: content.kind,
    sentence: sayNotice(content),
    href: noticeHref(content.kind, noticeSubject.parse(row.subjectType), row.subjectId),
    createdAt: row.createdAt.toISOString(),
    readAt: row.readAt?.toISOString() ?? null,
  };
}

/** The acting person's notices, newest first: only of records they may see now. */
export async function listNotices(actor: Actor, query: NoticeListQuery): Promise<NoticePage> {
  authorise(actor, 'notices.see');
  const listener = listenerOf(actor);
  const [found, unread] = await Promise.all([findNotices(listener, query), countUnread(listener)]);
  const { rows, next } = cutPage(found, query.size, ({ createdAt, id }) =>
    writeCursor([createdAt.toISOString(), id]),
  );
  return { rows: rows.map(toRow), next, unread };
}

export async function countUnreadNotices(actor: Actor): Promise<{ unread: number }> {
  authorise(actor, 'notices.see');
  return { unread: await countUnread(listenerOf(actor)) };
}

const ownSubject = (actor: Actor) => ({ subjectType: 'person', subjectId: personOf(actor) });

/** Marks one notice as read or unread; doing it again changes nothing. */
export async function markRead(context: CommandContext, id: string, read: boolean): Promise<NoticeRow> {
  const { actor } = context;
  authorise(actor, 'notices.see');
  return withTx(context, async (work) => {
    const notice = await findNotice(work.db, listenerOf(actor), id);
    if (notice === null) throw notFound(say('This notice'));
    if ((notice.readAt !== null) === read) return toRow(notice);
    const readAt = read ? work.now : null;
    // Zero rows: another tab was quicker, and it says the same.
    if ((await writeReadAt(work.db, id, readAt)) > 0)
      work.audit(noticeEvents.make('notices.read-marked', ownSubject(actor), { notices: 1, read }));
    return toRow({ ...notice, readAt });
  });
}

/** Marks as read everything up to an instant: what came since stays unread. */
export async function markAllNoticesRead(
  context: CommandContext,
  { until }: { until: string },
): Promise<{ unread: number }> {
  const { actor } = context;
  authorise(actor, 'notices.see');
  const listener = listenerOf(actor);
  await withTx(context, async (work) => {
    const count = await markAllRead(work.db, listener, new Date(until), work.now);
    if (count > 0)
      work.audit(noticeEvents.make('notices.read-marked', ownSubject(actor), { notices: count, read: true }));
  });
  return { unread: await countUnread(listener) };
}

/** How the acting person is told of each kind. */
export async function showPreferences(actor: Actor): Promise<Preferences> {
  authorise(actor, 'notices.see');
  const personId = personOf(actor);
  return {
    rows: allPreferences(await findWishes(db(), [personId])),
    mailWorks: canMail(),
    address: (await findEmail(personId)).email,
  };
}

/** Says how one wants to be told of these kinds; it counts for what comes from now on. */
export async function setPreferences(
  context: CommandContext,
  { rows }: PreferencesRequest,
): Promise<Preferences> {
  const { actor } = context;
  authorise(actor, 'notices.see');
  await withTx(context, async (work) => {
    for (const { kind, ...wish } of rows) await writeWish(work.db, personOf(actor), kind, wish);
    work.audit(
      noticeEvents.make('notices.preferences-set', ownSubject(actor), {
        to: Object.fromEntries(rows.map(({ kind, ...wish }) => [kind, wish])),
      }),
    );
  });
  return showPreferences(actor);
}
