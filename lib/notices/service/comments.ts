import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { notBefore } from '@/lib/platform/clock';
import { db, type Tx } from '@/lib/platform/db';
import { forbidden, notFound, notValid, staleVersion } from '@/lib/platform/errors';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may, type Role } from '@/lib/platform/permissions';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { noticeEvents } from '../events';
import { mayReadTalk, maySeeComments, maySeeWordsOfOthers } from '../policy';
import {
  countComments,
  type FoundComment,
  findComment,
  findComments,
  findFollow,
  findFollowers,
  insertComment,
  updateComment,
  writeFollow,
} from '../repo/comments';
import { type FoundSubject, findMembers, findNames, findSubject } from '../repo/subjects';
import { mentionsOf } from '../rules/mentions';
import { listenersOf } from '../rules/telling';
import {
  type CommentListQuery,
  type CommentPage,
  type CommentRequest,
  type CommentRow,
  commentSubject,
  MOST_MENTIONS,
  type Subject,
} from '../schema';
import { announce } from './announce';

const LEFT = 'somebody who left';

/** The record, as far as this person may talk about it. @throws AppError not-found, also for what they may not see */
export async function requireSubject(tx: Tx, actor: Actor, about: Subject): Promise<FoundSubject> {
  const found = maySeeComments(actor, about.subjectType)
    ? await findSubject(tx, actor.collectionId, about.subjectType, about.subjectId)
    : null;
  if (found === null) throw notFound(say('This record'));
  return found;
}

/** What was said about a record, newest first. Of a sensitive bird others' words only for who may know its place. */
export async function listComments(actor: Actor, query: CommentListQuery): Promise<CommentPage> {
  authorise(actor, 'comments.see');
  const { subjectType, subjectId } = query;
  const about = { subjectType, subjectId };
  const subject = await requireSubject(db(), actor, about);
  const me = personOf(actor);
  const seesAll = maySeeWordsOfOthers(actor, subject.sensitive);
  const onlyBy = seesAll ? undefined : me;
  const found = await findComments(db(), actor.collectionId, query, onlyBy);
  const { rows, next } = cutPage(found, query.size, ({ createdAt, id }) =>
    writeCursor([createdAt.toISOString(), id]),
  );
  const follow = await findFollow(db(), me, about);
  return {
    rows: await toRows(db(), actor, about, rows),
    next,
    total: await countComments(db(), actor.collectionId, about, { onlyBy }),
    withheld: seesAll ? 0 : await countComments(db(), actor.collectionId, about, { notBy: me }),
    following: follow === null ? subject.workers.includes(me) : follow.stoppedAt === null,
    sensitive: subject.sensitive,
    abilities: { write: may(actor, 'comments.write') },
  };
}

async function toRows(
  tx: Tx,
  actor: Actor,
  about: Subject,
  rows: readonly FoundComment[],
): Promise<CommentRow[]> {
  const names = await findNames(
    tx,
    rows.flatMap(({ authorId, text }) => [authorId, ...mentionsOf(text ?? '')]),
  );
  const labels = new Map<string, string | null>();
  for (const { subjectType, subjectId } of rows) {
    if (subjectId === about.subjectId || labels.has(subjectId)) continue;
    const type = commentSubject.parse(subjectType);
    labels.set(subjectId, (await findSubject(tx, actor.collectionId, type, subjectId))?.label ?? null);
  }
  return rows.map((row) => ({
    id: row.id,
    subjectType: commentSubject.parse(row.subjectType),
    subjectId: row.subjectId,
    of: labels.get(row.subjectId) ?? null,
    author: { id: row.authorId, name: names.get(row.authorId) ?? LEFT },
    field: row.field,
    text: row.text,
    people: mentionsOf(row.text ?? '').map((id) => ({ id, name: names.get(id) ?? LEFT })),
    createdAt: row.createdAt.toISOString(),
    editedAt: row.editedAt?.toISOString() ?? null,
    withdrawnAt: row.withdrawnAt?.toISOString() ?? null,
    version: row.version,
    abilities: { change: row.withdrawnAt === null && mayChange(actor, row) },
  }));
}

const mayChange = (actor: Actor, { authorId }: FoundComment): boolean =>
  may(actor, 'comments.change', { ownerIds: [authorId] });

/** Everybody who may be mentioned on a record, by name. */
export async function listReaders(
  actor: Actor,
  about: Subject,
): Promise<{ people: { id: string; name: string }[] }> {
  authorise(actor, 'comments.write');
  const { sensitive } = await requireSubject(db(), actor, about);
  const members = await findMembers(db(), actor.collectionId);
  return {
    people: members
      .filter(({ id, active, roles }) => {
        const reader = { personId: id, roles: roles as Role[] };
        return active && id !== actor.personId && mayReadTalk(reader, about.subjectType, sensitive);
      })
      .map(({ id, name }) => ({ id, name })),
  };
}

/** @throws AppError not-valid naming whom the record cannot be shown to */
async function checkMentions(
  work: Work,
  about: Subject,
  sensitive: boolean,
  text: string,
): Promise<string[]> {
  const mentioned = mentionsOf(text);
  if (mentioned.length > MOST_MENTIONS)
    throw notValid(say('Nothing was saved.'), [
      {
        path: 'text',
        message: say('A comment mentions at most {mostMentions} people.', { mostMentions: MOST_MENTIONS }),
      },
    ]);
  const members = await findMembers(work.db, work.actor.collectionId, { ids: mentioned, roles: [] });
  const refused = mentioned.filter((id) => {
    const member = members.find((one) => one.id === id);
    const reader = { personId: id, roles: (member?.roles ?? []) as Role[] };
    return !member?.active || !mayReadTalk(reader, about.subjectType, sensitive);
  });
  if (refused.length > 0) {
    const names = refused.map(
      (id) => members.find((one) => one.id === id)?.name ?? say('Somebody you mention'),
    );
    throw notValid(say('Nothing was saved.'), [
      {
        path: 'text',
        message: say('{names} may not read comments on this record.', { names: names.join(', ') }),
      },
    ]);
  }
  return mentioned;
}

/** Says something about a record. Who writes follows it from then on, unless they said that they do not want to. */
export async function writeComment(context: CommandContext, request: CommentRequest): Promise<CommentRow> {
  const { actor } = context;
  authorise(actor, 'comments.write');
  const { subjectType, subjectId, text, field } = request;
  const about = { subjectType, subjectId };
  const authorId = personOf(actor);
  return withTx(context, async (work) => {
    const subject = await requireSubject(work.db, actor, about);
    const mentioned = await checkMentions(work, about, subject.sensitive, text);
    const comment = await insertComment(work.db, {
      collectionId: actor.collectionId,
      ...about,
      birdId: subject.birdId,
      field,
      authorId,
      text,
      createdAt: work.now,
    });
    if ((await findFollow(work.db, authorId, about)) === null)
      await writeFollow(work.db, {
        ...about,
        personId: authorId,
        collectionId: actor.collectionId,
        at: work.now,
        stopped: false,
      });
    work.audit(
      noticeEvents.make('notices.comment-written', eventSubject(comment), {
        commentId: comment.id,
        mentions: mentioned.length,
        field,
      }),
    );
    await announceComment(work, about, subject, mentioned);
    const [row] = await toRows(work.db, actor, about, [comment]);
    if (row === undefined) throw new Error('The comment was not written.');
    return row;
  });
}

async function announceComment(
  work: Work,
  about: Subject,
  subject: FoundSubject,
  mentioned: readonly string[],
): Promise<void> {
  const listeners = listenersOf({
    authorId: work.actor.personId,
    mentioned,
    followers: await findFollowers(work.db, about, subject.birdId),
    workers: subject.workers,
  });
  const facts = { by: work.actor.name, what: subject.label };
  announce(work, { ...about, kind: 'notices.mentioned', facts, to: { people: listeners.mentioned } });
  announce(work, { ...about, kind: 'notices.commented', facts, to: { people: listeners.following } });
}

/** The event stands in the record's own story, and in its bird's. */
const eventSubject = ({ subjectType, subjectId, birdId }: FoundComment) => ({
  subjectType,
  subjectId,
  birdId,
});

/** A comment that this person wrote. @throws AppError not-found; forbidden for somebody else's */
async function requireOwn(work: Work, id: string): Promise<FoundComment> {
  const { actor } = work;
  authorise(actor, 'comments.change');
  const comment = await findComment(work.db, actor.collectionId, id);
  if (comment === null || !maySeeComments(actor, commentSubject.parse(comment.subjectType)))
    throw notFound(say('This comment'));
  if (!mayChange(actor, comment)) throw forbidden(say('Only who wrote a comment may change or withdraw it.'));
  return comment;
}

/** Writes a comment of one's own anew. Only whoever is mentioned for the first time is told. */
export async function editComment(
  context: CommandContext,
  id: string,
  { version, text }: { version: number; text: string },
): Promise<CommentRow> {
  return withTx(context, async (work) => {
    const before = await requireOwn(work, id);
    const about = { subjectType: commentSubject.parse(before.subjectType), subjectId: before.subjectId };
    const subject = await requireSubject(work.db, work.actor, about);
    const mentioned = await checkMentions(work, about, subject.sensitive, text);
    const editedAt = notBefore(before.createdAt, work.now);
    if ((await updateComment(work.db, { id, version }, { text, editedAt })) === 0)
      throw staleVersion(say('This comment'), {
        version: before.version,
        withdrawn: before.withdrawnAt !== null,
      });
    work.audit(
      noticeEvents.make('notices.comment-edited', eventSubject(before), {
        commentId: id,
        mentions: mentioned.length,
        field: before.field,
      }),
    );
    const known = mentionsOf(before.text ?? '');
    announce(work, {
      ...about,
      kind: 'notices.mentioned',
      facts: { by: work.actor.name, what: subject.label },
      to: { people: mentioned.filter((one) => !known.includes(one) && one !== work.actor.personId) },
    });
    return reload(work, about, id);
  });
}

/** Takes back what one said: that something was said, by whom and when, stays; the words go. */
export async function withdrawComment(
  context: CommandContext,
  id: string,
  { version }: { version: number },
): Promise<CommentRow> {
  return withTx(context, async (work) => {
    const before = await requireOwn(work, id);
    const about = { subjectType: commentSubject.parse(before.subjectType), subjectId: before.subjectId };
    const withdrawnAt = notBefore(before.createdAt, work.now);
    if ((await updateComment(work.db, { id, version }, { text: null, withdrawnAt })) === 0)
      throw staleVersion(say('This comment'), {
        version: before.version,
        withdrawn: before.withdrawnAt !== null,
      });
    work.audit(noticeEvents.make('notices.comment-withdrawn', eventSubject(before), { commentId: id }));
    return reload(work, about, id);
  });
}

async function reload(work: Work, about: Subject, id: string): Promise<CommentRow> {
  const comment = await findComment(work.db, work.actor.collectionId, id);
  const [row] = await toRows(work.db, work.actor, about, comment === null ? [] : [comment]);
  if (row === undefined) throw notFound(say('This comment'));
  return row;
}
