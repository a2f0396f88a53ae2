import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeEach, describe, expect, it, vi } from 'vitest';

const env = vi.hoisted(() => ({ REQUIRE_SECOND_FACTOR: false, BACKUP_DIR: undefined as string | undefined }));
vi.mock('@/lib/platform/env', async (load) => {
  const real = await load<typeof import('@/lib/platform/env')>();
  return { ...real, settings: () => ({ ...real.settings(), ...env }) };
});

import { showDesk } from '@/lib/desk/piles';
import { TASK_WORDS } from '@/lib/desk/rules/installation';
import { desk } from '@/lib/desk/schema';
import { makeWebhook, switchWebhookTo } from '@/lib/exchange/webhooks/service';
import { taskList } from '@/lib/jobs';
import { invitePerson } from '@/lib/people/service';
import { type Actor, systemActor } from '@/lib/platform/actor';
import { nameOfBackup } from '@/lib/platform/backup-names';
import { db } from '@/lib/platform/db';
import { withTx } from '@/lib/platform/tx';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';

const folder = mkdtempSync(path.join(tmpdir(), 'furcula-backups-'));
afterAll(() => rmSync(folder, { recursive: true }));

const hoursAgo = (hours: number) => new Date(Date.now() - hours * 3_600_000);
let collectionId: string;
let administrator: Actor;

const pileOf = async (who: Actor, id: string) => {
  const found = desk.parse(await showDesk(who)).piles.find((pile) => pile.id === id);
  if (found === undefined) throw new Error(`no pile ${id}`);
  return found;
};

type Job = { attempts?: number; most?: number; runAt?: Date; lockedAt?: Date };

async function makeJob(task: string, { attempts = 0, most = 25, runAt = new Date(), lockedAt }: Job) {
  await db()
    .$executeRaw`SELECT graphile_worker.add_job(${task}, '{}'::json, run_at => ${runAt}, max_attempts => ${most})`;
  await db()
    .$executeRaw`UPDATE graphile_worker._private_jobs SET attempts = ${attempts}, locked_at = ${lockedAt ?? null},
    last_error = CASE WHEN ${attempts} > 0 THEN 'It failed.' END
    WHERE id = (SELECT max(id) FROM graphile_worker._private_jobs)`;
}

beforeEach(async () => {
  Object.assign(env, { REQUIRE_SECOND_FACTOR: false, BACKUP_DIR: undefined });
  await db().$executeRaw`DELETE FROM graphile_worker._private_jobs`;
  collectionId = await makeCollection(db());
  administrator = await makeActor(db(), collectionId, 'administrator');
});

describe('background work', () => {
  it('shows what failed for good first, then what is late; never what runs well or waits its turn', async () => {
    await makeJob('queue.rank', { runAt: hoursAgo(3) });
    await makeJob('loans.remind', { attempts: 25, runAt: hoursAgo(1) });
    await makeJob('taxa.load-starter', { attempts: 1, runAt: hoursAgo(6), lockedAt: hoursAgo(5) });
    await makeJob('notices.mail', { attempts: 4, runAt: hoursAgo(-1) });
    await makeJob('once.only', { attempts: 1, most: 1, runAt: hoursAgo(2) });
    // Well: due a moment ago, tried once, at work, planned for tomorrow.
    await makeJob('queue.rank', {});
    await makeJob('queue.rank', { attempts: 1, runAt: hoursAgo(-1) });
    await makeJob('ops.backup', { attempts: 25, runAt: hoursAgo(1), lockedAt: hoursAgo(0.5) });
    await makeJob('permits.remind', { runAt: hoursAgo(-24) });
    const pile = await pileOf(administrator, 'jobs');
    expect(pile.items.map(({ label, tone, note }) => [label, tone, note])).toEqual([
      ['once.only', 'stop', 'failed once and is not tried again'],
      ['Reminding of loans', 'stop', 'failed 25 times and is not tried again'],
      ['Loading the first checklist', 'stop', 'begun 5 hours ago, not finished'],
      ['Ranking the queue', 'attention', 'due for 3 hours, nobody began it'],
      ['Sending a mail', 'attention', 'failed 4 times, will be tried again'],
    ]);
    expect(pile.total).toBe(5);
  });

  it('counts more than it shows', async () => {
    for (let made = 0; made < 9; made += 1) await makeJob('queue.rank', { runAt: hoursAgo(1) });
    const pile = await pileOf(administrator, 'jobs');
    expect([pile.total, pile.items.length]).toEqual([9, 6]);
  });

  it('has words for every task there is, and for no other', () =>
    expect(Object.keys(TASK_WORDS).sort()).toEqual(Object.keys(taskList).sort()));
});

describe('backups', () => {
  it('says that none are made, then how old the newest is', async () => {
    expect(await pileOf(administrator, 'backups')).toMatchObject({
      total: 1,
      items: [{ tone: 'attention' }],
    });
    env.BACKUP_DIR = path.join(folder, 'not-there-yet');
    expect(await pileOf(administrator, 'backups')).toMatchObject({
      total: 1,
      items: [{ tone: 'stop', note: 'None was made yet.' }],
    });
    env.BACKUP_DIR = folder;
    mkdirSync(path.join(folder, nameOfBackup(hoursAgo(60))));
    expect((await pileOf(administrator, 'backups')).items).toMatchObject([
      { tone: 'stop', note: 'The newest is 2 days old.' },
    ]);
    mkdirSync(path.join(folder, nameOfBackup(hoursAgo(5.5))));
    expect(await pileOf(administrator, 'backups')).toMatchObject({
      total: 0,
      items: [],
      empty: 'Backups are made. The newest is 5 hours old.',
    });
  });
});

describe('webhooks', () => {
  it('shows those that were switched off because nothing arrived, not those a person switched off', async () => {
    const request = { address: 'https://hooks.example/told', stages: ['salvage' as const] };
    const makeNamed = async (name: string) =>
      (await makeWebhook(contextOf(administrator), { ...request, name })).row.id;
    const byHand = await makeNamed('By hand');
    const lost = await makeNamed('Lost');
    await makeNamed('Well');
    await switchWebhookTo(contextOf(administrator), byHand, { active: false, reason: 'Moved away' });
    await withTx({ actor: systemActor(collectionId) }, async (work) => {
      await work.db.webhook.update({ where: { id: lost }, data: { active: false, switchedOffAt: work.now } });
      work.audit({
        kind: 'exchange.webhook-switched',
        subjectType: 'webhook',
        subjectId: lost,
        reason: '5 deliveries in a row did not arrive.',
        payload: { name: 'Lost', active: false },
      });
    });
    const { total, items } = await pileOf(administrator, 'webhooks');
    expect(total).toBe(1);
    expect(items).toMatchObject([{ label: 'Lost', href: '/exchange/webhooks', tone: 'attention' }]);
    expect(items[0]?.note).toContain('5 deliveries in a row did not arrive.');
    const elsewhere = await makeActor(db(), await makeCollection(db()), 'administrator');
    expect((await pileOf(elsewhere, 'webhooks')).total).toBe(0);
  });
});

describe('accounts', () => {
  it('names who must have a second factor and has none, once it is required', async () => {
    const open = async (role: 'permit-officer' | 'volunteer', data: object) => {
      const actor = await makeActor(db(), collectionId, role);
      return db().person.update({ where: { id: actor.personId ?? '' }, data });
    };
    const bare = await open('permit-officer', { passwordDigest: 'x', name: 'Bare' });
    const begun = await open('permit-officer', { passwordDigest: 'x', name: 'Begun' });
    const done = await open('permit-officer', { passwordDigest: 'x', name: 'Done' });
    await open('permit-officer', { passwordDigest: 'x', name: 'Closed', active: false });
    await open('permit-officer', { passwordDigest: null, name: 'Invited' });
    await open('volunteer', { passwordDigest: 'x', name: 'Volunteer' });
    await db().secondFactor.createMany({
      data: [
        { personId: begun.id, secret: 's' },
        { personId: done.id, secret: 's', confirmedAt: new Date() },
      ],
    });
    expect((await pileOf(administrator, 'second-factor')).total).toBe(0);
    env.REQUIRE_SECOND_FACTOR = true;
    const { items } = await pileOf(administrator, 'second-factor');
    const named = items.map(({ label }) => label);
    expect(named).toEqual(expect.arrayContaining([bare.name, begun.name]));
    for (const name of ['Done', 'Closed', 'Invited', 'Volunteer']) expect(named).not.toContain(name);
  });

  it('says of an invitation until when its link opens, or that it has ended', async () => {
    const { person } = await invitePerson(contextOf(administrator), {
      name: 'Nora Elster',
      email: 'nora.elster@test.example',
      roles: ['volunteer'],
    });
    const noteOf = async () =>
      (await pileOf(administrator, 'invited')).items.find(({ id }) => id === person.id)?.note;
    expect(await noteOf()).toMatch(/^nora\.elster@test\.example, link open until \d/);
    await db().accessLink.updateMany({ where: { personId: person.id }, data: { expiresAt: hoursAgo(1) } });
    expect(await noteOf()).toBe('nora.elster@test.example, the link has ended: make a new one');
  });
});

it('shows none of this to others', async () => {
  const curator = await makeActor(db(), collectionId, 'curator');
  const ids = (await showDesk(curator)).piles.map(({ id }) => id);
  for (const id of ['jobs', 'backups', 'webhooks', 'second-factor', 'invited']) expect(ids).not.toContain(id);
});
