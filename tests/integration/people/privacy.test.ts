import { randomUUID } from 'node:crypto';
import { beforeEach, describe, expect, it } from 'vitest';
import { verifyChain } from '@/lib/audit/service';
import { OWN_DATA, STANDING, WORK } from '@/lib/people/kept';
import { acceptLink } from '@/lib/people/links';
import { erasePerson, exportPerson } from '@/lib/people/privacy';
import { personExport } from '@/lib/people/schema';
import { changeActive, changeRoles, invitePerson, offerPasswordReset } from '@/lib/people/service';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { beginSession } from '@/lib/platform/identity/sessions';
import { checkPassword } from '@/lib/platform/identity/sign-in';
import { ROLES } from '@/lib/platform/permissions';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';

const PASSWORD = 'four words that fit together';
let collectionId: string;
let administrator: Actor;

beforeEach(async () => {
  collectionId = await makeCollection(db());
  administrator = await makeActor(db(), collectionId, 'administrator');
});

const emailOf = () => `wren-${randomUUID()}@lab.example`;

/** Somebody with a password, and a row of every kind that is kept for their own sake. */
async function somebody(): Promise<{ id: string; email: string; hidden: string }> {
  const hidden = `nobody-may-read-${randomUUID()}`;
  const email = emailOf();
  const { link, person } = await invitePerson(contextOf(administrator), {
    name: 'Wanda Wren',
    email,
    roles: ['preparator'],
  });
  const personId = person.id;
  await acceptLink({ token: link.split('/').at(-1) ?? '', password: PASSWORD });
  const subject = { subjectType: 'bird', subjectId: randomUUID() };
  await checkPassword({ email, password: 'wrong', code: '', address: '10.2.0.1' });
  await beginSession(personId);
  await db().secondFactor.create({ data: { personId, secret: hidden } });
  await db().recoveryCode.create({ data: { personId, digest: hidden } });
  await db().apiToken.create({
    data: {
      personId,
      collectionId,
      name: 'bench tablet',
      tokenDigest: hidden,
      scopes: ['salvage.see'],
      expiresAt: new Date(),
    },
  });
  await db().idempotencyKey.create({
    data: { personId, key: '1', route: 'x', bodyDigest: hidden, status: 200, body: { words: hidden } },
  });
  const announcement = { announcementId: randomUUID(), kind: 'notices.commented', facts: {} };
  await db().notice.create({ data: { personId, collectionId, ...announcement, ...subject } });
  await db().noticePreference.create({
    data: { personId, kind: 'notices.commented', inApp: true, mail: 'daily' },
  });
  await db().follow.create({ data: { personId, collectionId, ...subject } });
  const view = { personId, collectionId, page: 'catalogue', query: 'q=x' };
  await db().savedView.createMany({
    data: [
      { ...view, name: 'mine' },
      { ...view, name: 'for all', shared: true },
    ],
  });
  return { id: personId, email, hidden };
}

const work = (personId: string) =>
  db().dropOffSlip.create({
    data: { collectionId, label: 'door', tokenDigest: randomUUID(), createdById: personId },
  });

it('every column that holds a person is on one of the lists: a new one must say which', async () => {
  const columns = await db().$queryRaw<{ at: string }[]>`
    SELECT table_name || '."' || column_name || '"' AS at FROM information_schema.columns
    WHERE table_schema = 'public' AND udt_name = 'uuid' AND table_name <> 'AuditEvent'
      AND column_name ~ '(By|byId|ById|[pP]ersonId|actorId|authorId|preparatorId)$'`;
  const listed = [...OWN_DATA, ...STANDING, ...WORK].map(({ table, holds }) => `${table}.${holds}`);
  expect(columns.length).toBeGreaterThan(50);
  expect(columns.map(({ at }) => at).filter((at) => !listed.includes(at))).toEqual([]);
  expect(new Set(listed).size).toBe(listed.length);
});

describe('all that is kept of a person', () => {
  it('is handed out whole, without a secret, and that it was is in the history', async () => {
    const { id, email, hidden } = await somebody();
    const slip = await work(id);
    const kept = personExport.parse(await exportPerson(contextOf(administrator), id));
    expect(kept.account).toMatchObject({ id, email, name: 'Wanda Wren', active: true, erasedAt: null });
    expect(Object.keys(kept.ownData).sort()).toEqual(OWN_DATA.map(({ table }) => table).sort());
    expect(kept.ownData.ApiToken).toMatchObject([{ name: 'bench tablet', scopes: ['salvage.see'] }]);
    expect(kept.standing.Membership).toMatchObject([{ role: 'preparator' }]);
    expect(kept.work).toEqual([{ table: 'DropOffSlip', column: 'createdById', rows: 1, ids: [slip.id] }]);
    const { passwordDigest } = await db().person.findUniqueOrThrow({ where: { id } });
    for (const secret of [hidden, passwordDigest ?? '?', '$argon2'])
      expect(JSON.stringify(kept)).not.toContain(secret);
    const told = await db().auditEvent.findMany({ where: { subjectId: id, kind: 'people.exported' } });
    expect(told).toMatchObject([{ actorId: administrator.personId }]);
  });

  it('has the person’s own acts by id, and nothing of another collection or person', async () => {
    const { id } = await somebody();
    await offerPasswordReset(contextOf(administrator), id);
    const own = await exportPerson(contextOf(administrator), administrator.personId ?? '');
    expect(own.events.map(({ kind }) => kind)).toEqual(['people.invited', 'people.reset-offered']);
    expect(JSON.stringify(own)).not.toContain('Wanda');
    const elsewhere = await makeActor(db(), await makeCollection(db()), 'administrator');
    await expect(exportPerson(contextOf(elsewhere), id)).rejects.toMatchObject({ code: 'not-found' });
    await expect(erasePerson(contextOf(elsewhere), id, 'x')).rejects.toMatchObject({ code: 'not-found' });
  });

  it.each(ROLES.filter((role) => role !== 'administrator'))('is not for a %s', async (role) => {
    const actor = await makeActor(db(), collectionId, role);
    await expect(exportPerson(contextOf(actor), actor.personId ?? '')).rejects.toMatchObject({
      code: 'forbidden',
    });
    await expect(erasePerson(contextOf(actor), actor.personId ?? '', 'x')).rejects.toMatchObject({
      code: 'forbidden',
    });
  });

  it('is not left behind as the kept answer to a repeated request', async () => {
    const { id, email } = await somebody();
    const idempotency = { key: randomUUID(), route: 'x', bodyDigest: 'y' };
    await exportPerson({ ...contextOf(administrator), idempotency }, id);
    const answers = await db().idempotencyKey.findMany({ where: { key: idempotency.key } });
    expect(JSON.stringify(answers)).not.toContain(email);
  });
});

/** Rows of every table that still hold a text, by table. */
async function tablesThatSay(word: string): Promise<string[]> {
  const tables = await db().$queryRaw<{ name: string }[]>`
    SELECT table_name AS name FROM information_schema.tables WHERE table_schema = 'public' AND table_type = 'BASE TABLE'`;
  const found: string[] = [];
  for (const { name } of tables) {
    const rows = await db().$queryRawUnsafe<unknown[]>(
      `SELECT 1 FROM "${name}" t WHERE strpos(t::text, $1) > 0 LIMIT 1`,
      word,
    );
    if (rows.length > 0) found.push(name);
  }
  return found;
}

describe('an erasure', () => {
  it('takes away everything kept for the person’s own sake; record, name in it and chain stay', async () => {
    const { id, email, hidden } = await somebody();
    const slip = await work(id);
    expect(await tablesThatSay(email)).toEqual(expect.arrayContaining(['Person', 'rate_limit']));
    const events = await db().auditEvent.count({ where: { collectionId } });
    const erased = await erasePerson(contextOf(administrator), id, 'asked by letter');
    expect(erased).toMatchObject({ erased: true, active: false, name: 'Wanda Wren', secondFactor: false });
    expect(await tablesThatSay(email), 'the e-mail stands nowhere').toEqual([]);
    expect(await tablesThatSay(hidden)).toEqual([]);
    const kept = await exportPerson(contextOf(administrator), id);
    expect(kept.ownData.SavedView).toMatchObject([{ name: 'for all' }]);
    expect(Object.keys(kept.ownData)).toEqual(['SavedView']);
    expect(kept.work).toMatchObject([{ table: 'DropOffSlip', ids: [slip.id] }]);
    expect(await db().auditEvent.count({ where: { collectionId } })).toBe(events + 2);
    expect(await verifyChain(collectionId)).toMatchObject({ ok: true });
    expect(await checkPassword({ email, password: PASSWORD, code: '', address: '10.2.0.2' })).toBeNull();
  });

  it('takes the name too where it stands in no record of work', async () => {
    const { id } = await somebody();
    expect(await erasePerson(contextOf(administrator), id, 'left at once')).toMatchObject({
      name: 'Somebody who left',
    });
  });

  it('closes the account for good; the address may be invited anew', async () => {
    const { id, email } = await somebody();
    await erasePerson(contextOf(administrator), id, 'asked');
    const context = contextOf(administrator);
    for (const again of [
      () => erasePerson(context, id, 'again'),
      () => changeActive(context, id, { active: true, reason: 'back' }),
      () => changeRoles(context, id, { roles: ['curator'], reason: 'back' }),
      () => offerPasswordReset(context, id),
    ])
      await expect(again()).rejects.toMatchObject({ code: 'conflict' });
    await expect(
      db().person.update({ where: { id }, data: { active: true } }),
      'the database holds it too',
    ).rejects.toThrow(/Person_erased_check/);
    const { person } = await invitePerson(context, { name: 'Wanda Wren', email, roles: ['volunteer'] });
    expect(person.id).not.toBe(id);
  });

  it('is refused for oneself and for whom another collection knows', async () => {
    await expect(
      erasePerson(contextOf(administrator), administrator.personId ?? '', 'x'),
    ).rejects.toMatchObject({ code: 'conflict', message: expect.stringContaining('your own') });
    const { id, email } = await somebody();
    await db().membership.create({
      data: { personId: id, collectionId: await makeCollection(db()), role: 'curator' },
    });
    await expect(erasePerson(contextOf(administrator), id, 'x')).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringContaining('another collection'),
    });
    expect(await db().person.findUniqueOrThrow({ where: { id } })).toMatchObject({ email, active: true });
    expect(await db().notice.count({ where: { personId: id } })).toBe(1);
  });
});
