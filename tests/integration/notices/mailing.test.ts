import type { AddressInfo } from 'node:net';
import { type ParsedMail, simpleParser } from 'mailparser';
import { SMTPServer } from 'smtp-server';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';

const mailServer = vi.hoisted(() => ({ url: undefined as string | undefined }));
vi.mock('@/lib/platform/env', async (load) => {
  const real = await load<typeof import('@/lib/platform/env')>();
  return {
    ...real,
    settings: () => ({
      ...real.settings(),
      SMTP_URL: mailServer.url,
      MAIL_FROM: 'Furcula <furcula@museum.example>',
      FURCULA_URL: 'https://birds.museum.example',
    }),
  };
});

import type { noticeKind } from '@/lib/notices/kinds';
import { writeComment } from '@/lib/notices/service/comments';
import { digestCutoff, mailDigest, mailNotice } from '@/lib/notices/service/mailing';
import { setPreferences, showPreferences } from '@/lib/notices/service/notices';
import type { Actor } from '@/lib/platform/actor';
import { pinClock } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeBird, makeCollection } from '@/seed/factories';
import { doNotices, runJob } from './work';

const LOCALITY = 'Quarry ledge over Hollow Pike';
const FINDER = { name: 'Berta Quillan', email: 'berta@finder.example', phone: '555 0117' };

/** A real mail server on loopback: what it took, and whether it is to refuse. */
const taken: ParsedMail[] = [];
let refuse = false;
const server = new SMTPServer({
  authOptional: true,
  disabledCommands: ['STARTTLS'],
  logger: false,
  onData(stream, _session, done) {
    void simpleParser(stream).then((mail) => {
      if (refuse) return done(new Error('451 come back later'));
      taken.push(mail);
      done();
    }, done);
  },
});
let url = '';
beforeAll(
  () =>
    new Promise<void>((resolve) => {
      server.listen(0, '127.0.0.1', () => {
        url = `smtp://127.0.0.1:${(server.server.address() as AddressInfo).port}`;
        resolve();
      });
    }),
);
afterAll(() => new Promise<void>((resolve) => void server.close(() => resolve())));

let collectionId: string;
let [author, volunteer] = [] as unknown as [Actor, Actor];
let bird: { id: string; number: string };

beforeEach(async () => {
  taken.length = 0;
  refuse = false;
  mailServer.url = url;
  collectionId = await makeCollection(db(), { name: 'Birds of Quillmere' });
  author = await makeActor(db(), collectionId, 'curator');
  volunteer = await makeActor(db(), collectionId, 'volunteer');
  bird = await makeBird(db(), collectionId);
  const finder = await db().finder.create({ data: { collectionId, ...FINDER } });
  await db().salvageRecord.updateMany({
    where: { bird: { id: bird.id } },
    data: { locality: LOCALITY, latitude: 40.12347, longitude: -82.65431, finderId: finder.id },
  });
});
afterEach(() => pinClock(null));

const addressOf = async (actor: Actor) =>
  (await db().person.findUniqueOrThrow({ where: { id: actor.personId ?? '' } })).email;
const mention = (text = '') =>
  writeComment(contextOf(author), {
    subjectType: 'bird',
    subjectId: bird.id,
    field: null,
    text: `${text} @[${volunteer.personId}]`,
  });
const noticeOf = (actor: Actor) =>
  db().notice.findFirstOrThrow({ where: { personId: actor.personId ?? '' } });
const wish = (mail: 'off' | 'at-once' | 'daily', inApp = true) =>
  setPreferences(contextOf(volunteer), { rows: [{ kind: 'notices.mentioned', inApp, mail }] });

describe('a notice that is mailed at once', () => {
  it('arrives once, though every job comes twice, and says nothing that is restricted', async () => {
    await mention(`At ${LOCALITY}, 40.12347; ${FINDER.name} (${FINDER.phone}) knows. <b>Look</b>`);
    await doNotices(2);
    expect(taken).toHaveLength(1);
    const [mail] = taken;
    expect(mail?.to).toMatchObject({
      value: [{ address: await addressOf(volunteer), name: volunteer.name }],
    });
    expect(mail?.from?.text).toContain('furcula@museum.example');
    expect(mail?.subject).toBe(`${author.name} mentioned you in a comment on ${bird.number}.`);
    expect(mail?.text).toContain(`https://birds.museum.example/birds/${bird.id}#comments`);
    expect(mail?.text).toContain('https://birds.museum.example/notices/preferences');
    expect(mail?.html, 'plain text').toBe(false);
    expect(mail?.headers.get('auto-submitted')).toBe('auto-generated');
    const whole = `${mail?.subject} ${mail?.text} ${JSON.stringify(mail?.headerLines)}`;
    for (const secret of ['Hollow Pike', '40.12', '82.65', 'Quillan', '555', 'finder.example', 'Look'])
      expect(whole, secret).not.toContain(secret);
    expect((await noticeOf(volunteer)).mailedAt).not.toBeNull();
    const events = await db().auditEvent.findMany({ where: { collectionId, kind: 'notices.mailed' } });
    expect(events).toMatchObject([{ payload: { how: 'at-once', notices: 1 } }]);
  });

  it('goes to one of several workers that deliver at the same moment', async () => {
    await mention();
    const jobs = await db().$queryRaw<
      { payload: unknown }[]
    >`SELECT payload FROM graphile_worker._private_jobs`;
    await runJob({ task: 'notices.tell', payload: jobs[0]?.payload });
    const { id } = await noticeOf(volunteer);
    const ends = await Promise.allSettled(Array.from({ length: 5 }, () => mailNotice(id)));
    expect(taken).toHaveLength(1);
    expect(ends.some(({ status }) => status === 'fulfilled')).toBe(true);
    await mailNotice(id);
    expect(taken).toHaveLength(1);
  });

  it('is tried again where the server refused or is away, and then arrives once', async () => {
    await mention();
    refuse = true;
    await expect(doNotices()).rejects.toThrow(/come back later/);
    const { id, mailedAt, mailClaim } = await noticeOf(volunteer);
    expect([mailedAt, mailClaim]).toEqual([null, null]);
    mailServer.url = 'smtp://127.0.0.1:1';
    await expect(mailNotice(id)).rejects.toThrow();
    mailServer.url = url;
    refuse = false;
    await mailNotice(id);
    await mailNotice(id);
    expect(taken).toHaveLength(1);
  });

  it('of a worker that died is taken over when its claim has ended, under the same id', async () => {
    await mention();
    await doNotices();
    const { id } = await noticeOf(volunteer);
    await db().notice.update({ where: { id }, data: { mailedAt: null } });
    await expect(mailNotice(id), 'it may still be at work').rejects.toThrow(/Another delivery/);
    await db().notice.update({ where: { id }, data: { mailClaimedAt: new Date(Date.now() - 3_600_000) } });
    await mailNotice(id);
    expect(taken).toHaveLength(2);
    expect(taken[0]?.messageId).toBe(taken[1]?.messageId);
  });

  it('does not reach who left, or who may no longer hear of the record', async () => {
    await mention();
    const [job] = await db().$queryRaw<
      { payload: unknown }[]
    >`SELECT payload FROM graphile_worker._private_jobs`;
    await runJob({ task: 'notices.tell', payload: job?.payload });
    await db().membership.updateMany({
      where: { personId: volunteer.personId ?? '' },
      data: { role: 'visitor' },
    });
    await mailNotice((await noticeOf(volunteer)).id);
    expect(taken).toEqual([]);
    expect(await noticeOf(volunteer)).toMatchObject({ mail: 'none', mailedAt: null });
  });
});

describe('the mail of the day', () => {
  const at = (hour: number, day = 4) => pinClock(new Date(Date.UTC(2026, 4, day, hour)));

  it('gathers what came before seven, once, and leaves out what was read', async () => {
    await wish('daily');
    at(5);
    for (const words of ['one', 'two', 'three']) await mention(words);
    await doNotices();
    const read = await noticeOf(volunteer);
    await db().notice.update({ where: { id: read.id }, data: { readAt: new Date() } });
    expect(taken, 'nothing at once').toEqual([]);
    at(6);
    await runJob({ task: 'notices.digests', payload: {} });
    await doNotices();
    expect(taken, 'not seven yet').toEqual([]);
    at(8);
    await mention('came after seven');
    await doNotices();
    for (let hour = 0; hour < 2; hour += 1) {
      await runJob({ task: 'notices.digests', payload: {} });
      await doNotices(2);
    }
    expect(taken).toHaveLength(1);
    expect(taken[0]?.subject).toBe('2 notices: Birds of Quillmere');
    expect(taken[0]?.text?.match(/mentioned you/g)).toHaveLength(2);
    expect(taken[0]?.text).not.toContain('came after');
    at(8, 5);
    await runJob({ task: 'notices.digests', payload: {} });
    await doNotices();
    expect(taken.map(({ subject }) => subject)).toEqual([
      '2 notices: Birds of Quillmere',
      '1 notice: Birds of Quillmere',
    ]);
  });

  it('leaves once where two deliver it at the same moment', async () => {
    await wish('daily');
    at(5);
    await mention();
    await doNotices();
    at(9);
    const deliver = () => mailDigest(collectionId, volunteer.personId ?? '');
    await Promise.allSettled([deliver(), deliver(), deliver()]);
    await deliver();
    expect(taken).toHaveLength(1);
  });

  it.each([
    ['UTC', '2026-05-04T06:59:00Z', '2026-05-03T07:00:00.000Z'],
    ['UTC', '2026-05-04T07:00:00Z', '2026-05-04T07:00:00.000Z'],
    ['America/New_York', '2026-05-04T10:59:00Z', '2026-05-03T11:00:00.000Z'],
    ['America/New_York', '2026-05-04T11:00:00Z', '2026-05-04T11:00:00.000Z'],
    ['Pacific/Auckland', '2026-01-04T18:30:00Z', '2026-01-04T18:00:00.000Z'],
  ])('seven o’clock in %s at %s was last at %s', (zone, now, seven) =>
    expect(digestCutoff(zone, new Date(now)).toISOString()).toBe(seven),
  );
});

describe('without a mail server', () => {
  it('nothing is mailed, the choices say so, and what was wanted by mail is shown', async () => {
    mailServer.url = undefined;
    await wish('at-once', false);
    expect(await showPreferences(volunteer)).toMatchObject({ mailWorks: false });
    await mention();
    await doNotices();
    expect(await noticeOf(volunteer)).toMatchObject({ inApp: true, mail: 'none' });
    mailServer.url = url;
    await mailNotice((await noticeOf(volunteer)).id);
    expect(taken).toEqual([]);
    expect(await showPreferences(volunteer)).toMatchObject({
      mailWorks: true,
      address: await addressOf(volunteer),
    });
  });

  it('the database refuses a note that something was mailed which was not to be', async () => {
    await wish('off');
    await mention();
    await doNotices();
    const { id } = await noticeOf(volunteer);
    await expect(db().notice.update({ where: { id }, data: { mailedAt: new Date() } })).rejects.toThrow();
    await expect(
      db().notice.update({ where: { id }, data: { kind: 'gossip' as (typeof noticeKind.options)[number] } }),
    ).rejects.toThrow();
  });
});
