import { beforeEach, describe, expect, it } from 'vitest';
import { announce } from '@/lib/notices/public';
import type { Subject } from '@/lib/notices/schema';
import {
  editComment,
  listComments,
  listReaders,
  withdrawComment,
  writeComment,
} from '@/lib/notices/service/comments';
import { followRecord } from '@/lib/notices/service/following';
import { countUnreadNotices, listNotices } from '@/lib/notices/service/notices';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { Role } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { contextOf, makeActor, makeCollection, makeTaxon } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';
import { doNotices, kindsToldTo } from '../notices/work';

let collectionId: string;
let curator: Actor;
let outsiders: Record<string, Actor>;
let about: Subject;
let sensitive: Subject;
let commentId: string;

const SECRET = '<script>alert(1)</script> the nest over Hollow Pike';
const as = (...roles: Role[]) => makeActor(db(), collectionId, ...roles);

beforeEach(async () => {
  collectionId = await makeCollection(db());
  curator = await as('curator');
  const preparator = await as('preparator');
  const made = await makeInReview(db(), preparator, { taxonId: await makeTaxon(db()) });
  const gyr = await makeTaxon(db(), { scientificName: 'Falco rusticolus', sensitive: true });
  const kept = await makeInReview(db(), preparator, { taxonId: gyr });
  about = { subjectType: 'bird', subjectId: made.bird.id };
  sensitive = { subjectType: 'bird', subjectId: kept.bird.id };
  outsiders = {
    visitor: await as('visitor'),
    administrator: await as('administrator'),
    'curator of another collection': await makeActor(db(), await makeCollection(db()), 'curator'),
  };
  commentId = (await writeComment(contextOf(curator), { ...about, text: SECRET, field: null })).id;
});

const OUTSIDERS = ['visitor', 'administrator', 'curator of another collection'] as const;
const REFUSED = { code: expect.stringMatching(/^(forbidden|not-found)$/) };

describe.each(OUTSIDERS)('%s', (who) => {
  it('reads, writes, follows, changes no comment, and learns nobody’s name', async () => {
    const actor = outsiders[who] as Actor;
    const tries = [
      () => listComments(actor, { ...about, size: 50 }),
      () => listReaders(actor, about),
      () => writeComment(contextOf(actor), { ...about, text: 'hello', field: null }),
      () => followRecord(contextOf(actor), { ...about, follow: true }),
      () => editComment(contextOf(actor), commentId, { version: 1, text: 'mine' }),
      () => withdrawComment(contextOf(actor), commentId, { version: 1 }),
    ];
    for (const attempt of tries) await expect(attempt()).rejects.toMatchObject(REFUSED);
    expect(await db().comment.findUniqueOrThrow({ where: { id: commentId } })).toMatchObject({
      text: SECRET,
    });
    expect(await db().comment.count({ where: { collectionId } })).toBe(1);
  });

  it('cannot be mentioned', async () => {
    await expect(
      writeComment(contextOf(curator), { ...about, text: `@[${outsiders[who]?.personId}]`, field: null }),
    ).rejects.toMatchObject({ code: 'not-valid', fields: [{ path: 'text' }] });
  });

  it('is told of nothing, even where a stage names them or they follow', async () => {
    const actor = outsiders[who] as Actor;
    const personId = actor.personId ?? '';
    await db().follow.create({ data: { ...about, personId, collectionId } });
    await writeComment(contextOf(curator), { ...about, text: 'again', field: null });
    await withTx(contextOf(curator), async (work) => {
      const facts = { bird: 'S-1', daysLeft: 1 };
      announce(work, { ...about, kind: 'queue.claim-ending', facts, to: { people: [personId] } });
      work.audit({ kind: 'queue.claim-ending', ...about, payload: {} });
    });
    await doNotices();
    expect(await kindsToldTo(actor)).toEqual([]);
  });
});

describe('somebody who was told and then lost the role', () => {
  it('no longer sees what they were told', async () => {
    const volunteer = await as('volunteer');
    await writeComment(contextOf(curator), { ...about, text: `@[${volunteer.personId}]`, field: null });
    await doNotices();
    expect(await countUnreadNotices(volunteer)).toEqual({ unread: 1 });
    const visitor: Actor = { ...volunteer, roles: ['visitor'] };
    await expect(listNotices(visitor, { size: 50, show: 'all' })).rejects.toMatchObject({
      code: 'forbidden',
    });
    const narrow: Actor = { ...volunteer, scopes: ['notices.see', 'loans.see'] };
    expect(await listNotices(narrow, { size: 50, show: 'all' })).toMatchObject({ rows: [], unread: 0 });
  });
});

describe('words about a sensitive bird', () => {
  it('reach only who may know its place; others see their own and how many there are', async () => {
    const volunteer = await as('volunteer');
    await writeComment(contextOf(curator), { ...sensitive, text: SECRET, field: null });
    await followRecord(contextOf(volunteer), { ...sensitive, follow: true });
    await writeComment(contextOf(volunteer), { ...sensitive, text: 'a question of mine', field: null });
    await writeComment(contextOf(curator), { ...sensitive, text: 'an answer', field: null });
    const seen = await listComments(volunteer, { ...sensitive, size: 50 });
    expect(seen.rows.map(({ text }) => text)).toEqual(['a question of mine']);
    expect(seen).toMatchObject({ withheld: 2, total: 1, sensitive: true });
    expect(JSON.stringify(seen)).not.toContain('Hollow Pike');
    await doNotices();
    expect(await kindsToldTo(volunteer)).toEqual([]);
    await expect(
      writeComment(contextOf(curator), { ...sensitive, text: `@[${volunteer.personId}]`, field: null }),
    ).rejects.toMatchObject({ code: 'not-valid' });
    expect((await listReaders(curator, sensitive)).people.map(({ id }) => id)).not.toContain(
      volunteer.personId,
    );
    expect((await listComments(curator, { ...sensitive, size: 50 })).rows).toHaveLength(3);
  });
});

describe('markup in a comment', () => {
  it('is kept and answered as it was written: it is shown as text, never made harmless by changing it', async () => {
    const { rows } = await listComments(curator, { ...about, size: 50 });
    expect(rows.map(({ text }) => text)).toEqual([SECRET]);
  });
});
