import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { CommentSubject } from '@/lib/notices/schema';
import {
  editComment,
  listComments,
  listReaders,
  withdrawComment,
  writeComment,
} from '@/lib/notices/service/comments';
import { followRecord } from '@/lib/notices/service/following';
import {
  countUnreadNotices,
  listNotices,
  markAllNoticesRead,
  markRead,
  setPreferences,
  showPreferences,
} from '@/lib/notices/service/notices';
import type { Actor } from '@/lib/platform/actor';
import { pinClock } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection, makeTaxon } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';
import { doNotices, kindsToldTo, toldTo, waitingJobs } from './work';

let collectionId: string;
let [preparator, curator, volunteer, registrar] = [] as unknown as [Actor, Actor, Actor, Actor];
let bird: { id: string; number: string; salvageId: string };
let recordId: string;

beforeEach(async () => {
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
  curator = await makeActor(db(), collectionId, 'curator');
  volunteer = await makeActor(db(), collectionId, 'volunteer');
  registrar = await makeActor(db(), collectionId, 'registrar');
  const made = await makeInReview(db(), preparator, { taxonId: await makeTaxon(db()) });
  bird = made.bird;
  recordId = made.record.id;
});
afterEach(() => pinClock(null));

const mention = (...people: Actor[]) => people.map(({ personId }) => `@[${personId}]`).join(' ');
const say = (by: Actor, text: string, subjectType: CommentSubject = 'bird', subjectId = bird.id) =>
  writeComment(contextOf(by), { subjectType, subjectId, text, field: null });
const talk = (reader: Actor, subjectType: CommentSubject = 'bird', subjectId = bird.id) =>
  listComments(reader, { subjectType, subjectId, size: 50 });

describe('a comment', () => {
  it('is kept with its author and moment, in the story of the bird without its words', async () => {
    const comment = await say(curator, `A graft on the left wing? ${mention(volunteer)}`);
    const { rows, total } = await talk(registrar);
    expect(total).toBe(1);
    expect(rows).toMatchObject([
      { id: comment.id, author: { name: curator.name }, people: [{ name: volunteer.name }], of: null },
    ]);
    expect(rows[0]?.abilities.change).toBe(false);
    expect((await talk(curator)).rows[0]?.abilities.change).toBe(true);
    const [event] = await db().auditEvent.findMany({ where: { birdId: bird.id } });
    expect(event).toMatchObject({ kind: 'notices.comment-written', subjectType: 'bird', subjectId: bird.id });
    expect(JSON.stringify(event?.payload)).not.toContain('graft');
  });

  it('on the find, the bench record or a material stands with the bird too, saying on what', async () => {
    await say(curator, 'one', 'salvage', bird.salvageId);
    await say(curator, 'two', 'bench-record', recordId);
    const skin = await db().material.findFirstOrThrow({ where: { birdId: bird.id, kind: 'skin' } });
    await say(curator, 'three', 'material', skin.id);
    const { rows } = await talk(volunteer);
    expect(rows.map(({ text, of }) => [text, of])).toEqual([
      ['three', `${bird.number}-S`],
      ['two', `bench record TP ${bird.number}`],
      ['one', `find ${bird.number}`],
    ]);
    expect((await talk(volunteer, 'bench-record', recordId)).rows.map(({ text }) => text)).toEqual(['two']);
  });

  it('pages from the newest, without gap or repetition', async () => {
    for (let n = 1; n <= 5; n += 1) await say(curator, `comment ${n}`);
    const first = await listComments(curator, { subjectType: 'bird', subjectId: bird.id, size: 3 });
    const second = await listComments(curator, {
      subjectType: 'bird',
      subjectId: bird.id,
      size: 3,
      after: first.next ?? '',
    });
    expect([...first.rows, ...second.rows].map(({ text }) => text)).toEqual(
      [5, 4, 3, 2, 1].map((n) => `comment ${n}`),
    );
    expect(second.next).toBeNull();
  });

  it('is changed by its author only, on the version they saw', async () => {
    const comment = await say(curator, 'firts');
    await expect(
      editComment(contextOf(registrar), comment.id, { version: 1, text: 'mine now' }),
    ).rejects.toMatchObject({ code: 'forbidden' });
    const edited = await editComment(contextOf(curator), comment.id, { version: 1, text: 'first' });
    expect(edited).toMatchObject({ text: 'first', version: 2 });
    expect(edited.editedAt).not.toBeNull();
    await expect(
      editComment(contextOf(curator), comment.id, { version: 1, text: 'other' }),
    ).rejects.toMatchObject({ code: 'stale-version' });
  });

  it('is withdrawn by its author only: the words go, the fact stays, and nothing brings it back', async () => {
    const comment = await say(curator, 'The finder lives in Sedge Lane 4.');
    await expect(withdrawComment(contextOf(registrar), comment.id, { version: 1 })).rejects.toMatchObject({
      code: 'forbidden',
    });
    await withdrawComment(contextOf(curator), comment.id, { version: 1 });
    const { rows } = await talk(registrar);
    expect(rows).toMatchObject([{ text: null, author: { name: curator.name } }]);
    expect(rows[0]?.withdrawnAt).not.toBeNull();
    const [stored] = await db().$queryRaw<{ row: string }[]>`SELECT c::text AS row FROM "Comment" c`;
    expect(stored?.row).not.toContain('Sedge Lane');
    await expect(
      editComment(contextOf(curator), comment.id, { version: 2, text: 'again' }),
    ).rejects.toMatchObject({ code: 'stale-version' });
  });

  it.each([
    ['an empty text', { text: null as string | null, withdrawnAt: null }],
    ['withdrawn with its words', { text: 'still here', withdrawnAt: new Date() }],
  ])('the database refuses %s', async (_, data) => {
    const { id } = await say(curator, 'a comment');
    await expect(db().comment.update({ where: { id }, data })).rejects.toThrow();
  });
});

describe('who is told', () => {
  it('mentioned, then who follows or works on it; never the author; each once', async () => {
    await followRecord(contextOf(registrar), { subjectType: 'bird', subjectId: bird.id, follow: true });
    await followRecord(contextOf(volunteer), { subjectType: 'bird', subjectId: bird.id, follow: true });
    await say(curator, `Look, ${mention(volunteer, volunteer, curator)}`);
    await doNotices(2);
    expect(await toldTo(volunteer)).toEqual([
      {
        kind: 'notices.mentioned',
        sentence: `${curator.name} mentioned you in a comment on ${bird.number}.`,
      },
    ]);
    expect(await kindsToldTo(registrar)).toEqual(['notices.commented']);
    expect(await kindsToldTo(preparator), 'prepared it').toEqual(['notices.commented']);
    expect(await kindsToldTo(curator)).toEqual([]);
  });

  it('who commented hears of the answer, who stopped following does not', async () => {
    await say(curator, 'What is this?');
    await say(registrar, 'A graft.');
    await doNotices();
    expect(await kindsToldTo(curator)).toEqual(['notices.commented']);
    for (const actor of [curator, preparator])
      await followRecord(contextOf(actor), { subjectType: 'bird', subjectId: bird.id, follow: false });
    await say(registrar, 'Or not.');
    await doNotices();
    expect(await kindsToldTo(curator)).toEqual(['notices.commented']);
    expect(await kindsToldTo(preparator)).toEqual(['notices.commented', 'notices.commented']);
    expect((await talk(curator)).following).toBe(false);
    await say(curator, 'I say something all the same.');
    expect((await talk(curator)).following, 'commenting does not undo it').toBe(false);
  });

  it('a changed comment tells only whoever is mentioned for the first time', async () => {
    const comment = await say(curator, mention(volunteer));
    await doNotices();
    await editComment(contextOf(curator), comment.id, { version: 1, text: mention(volunteer, registrar) });
    await doNotices();
    expect(await kindsToldTo(volunteer)).toEqual(['notices.mentioned']);
    expect(await kindsToldTo(registrar)).toEqual(['notices.mentioned']);
  });

  it('nobody when the command is rolled back', async () => {
    await expect(say(curator, `${mention(volunteer)} @[${crypto.randomUUID()}]`)).rejects.toMatchObject({
      code: 'not-valid',
    });
    expect(await waitingJobs()).toEqual([]);
    expect(await db().comment.count({ where: { birdId: bird.id } })).toBe(0);
  });
});

describe('one’s notices', () => {
  const tell = async (count: number) => {
    for (let n = 0; n < count; n += 1) {
      pinClock(new Date(Date.UTC(2026, 4, 1, 8, n)));
      await say(curator, `${n} ${mention(volunteer)}`);
    }
    await doNotices();
  };

  it('come newest first, page by page, and can be narrowed to the unread', async () => {
    await tell(5);
    const first = await listNotices(volunteer, { size: 2, show: 'all' });
    const rest = await listNotices(volunteer, { size: 5, show: 'all', after: first.next ?? '' });
    const all = [...first.rows, ...rest.rows];
    expect(all.map(({ createdAt }) => createdAt)).toEqual(
      [4, 3, 2, 1, 0].map((n) => new Date(Date.UTC(2026, 4, 1, 8, n)).toISOString()),
    );
    expect(first).toMatchObject({ unread: 5, rows: [{ href: `/birds/${bird.id}#comments` }, {}] });
    await markRead(contextOf(volunteer), all[0]?.id ?? '', true);
    await markRead(contextOf(volunteer), all[0]?.id ?? '', true);
    const unread = await listNotices(volunteer, { size: 50, show: 'unread' });
    expect(unread.rows.map(({ id }) => id)).toEqual(all.slice(1).map(({ id }) => id));
    await markRead(contextOf(volunteer), all[0]?.id ?? '', false);
    expect(await countUnreadNotices(volunteer)).toEqual({ unread: 5 });
  });

  it('all read up to the one that was seen; what came since stays unread', async () => {
    await tell(3);
    const until = new Date(Date.UTC(2026, 4, 1, 8, 1)).toISOString();
    expect(await markAllNoticesRead(contextOf(volunteer), { until })).toEqual({ unread: 1 });
    expect(await markAllNoticesRead(contextOf(volunteer), { until })).toEqual({ unread: 1 });
  });

  it('are nobody else’s to see or mark', async () => {
    await tell(1);
    const id = (await listNotices(volunteer, { size: 5, show: 'all' })).rows[0]?.id ?? '';
    await expect(markRead(contextOf(registrar), id, true)).rejects.toMatchObject({ code: 'not-found' });
    await markAllNoticesRead(contextOf(registrar), { until: '2030-01-01T00:00:00.000Z' });
    expect(await countUnreadNotices(volunteer)).toEqual({ unread: 1 });
  });

  it('come as one wishes from then on', async () => {
    const before = await showPreferences(volunteer);
    expect(before).toMatchObject({ mailWorks: false });
    expect(before.rows.find(({ kind }) => kind === 'notices.mentioned')).toMatchObject({ inApp: true });
    await setPreferences(contextOf(volunteer), {
      rows: [{ kind: 'notices.mentioned', inApp: false, mail: 'off' }],
    });
    await tell(1);
    expect(await toldTo(volunteer)).toEqual([]);
    const after = await showPreferences(volunteer);
    expect(after.rows.filter(({ kind }) => kind === 'notices.mentioned')).toEqual([
      { kind: 'notices.mentioned', inApp: false, mail: 'off' },
    ]);
    expect((await showPreferences(registrar)).rows).toEqual(before.rows);
  });
});

describe('whom one may mention', () => {
  it('everybody who may read it, by name, but oneself, visitors and closed accounts', async () => {
    await makeActor(db(), collectionId, 'visitor');
    await makeActor(db(), collectionId, 'administrator');
    const gone = await makeActor(db(), collectionId, 'curator');
    await db().person.update({ where: { id: gone.personId ?? '' }, data: { active: false } });
    const { people } = await listReaders(curator, { subjectType: 'bird', subjectId: bird.id });
    const expected = [preparator, volunteer, registrar].map(({ name }) => name).sort();
    expect(people.map(({ name }) => name).sort()).toEqual(expected);
  });
});
