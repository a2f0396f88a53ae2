import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { POST } from '@/app/api/drop-off/[token]/route';
import { GET as printSlip } from '@/app/api/salvage/slips/[id]/label/route';
import { verifyChain } from '@/lib/audit/service';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { finderChangeRequest } from '@/lib/salvage/schema';
import { recheckFind } from '@/lib/salvage/service/coverage';
import { changeFinder, lookUpFinder } from '@/lib/salvage/service/finder';
import { eraseFinder } from '@/lib/salvage/service/finder-privacy';
import { listFinds, showFind } from '@/lib/salvage/service/reading';
import { reportFind } from '@/lib/salvage/service/report';
import { describeSlip, endSlip, listSlips, makeSlip, openSlip } from '@/lib/salvage/service/slips';
import { contextOf } from '@/seed/factories';
import { find, type Lab, makeLab } from './build';

const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => signedIn.actor }));

let lab: Lab;
beforeAll(async () => {
  lab = await makeLab();
});

const ADA = { name: 'Ada Finder', email: 'ada@finder.example', phone: '555 0100', address: '1 Test Lane' };
const log = () => reportFind(contextOf(lab.as.volunteer), find(lab, { finder: ADA, facts: {} }));

/** Everything that is kept outside the finder's own row. */
async function keptElsewhere(id: string): Promise<string> {
  const [record, events, answers] = await Promise.all([
    db().salvageRecord.findUniqueOrThrow({ where: { id }, include: { custody: true, holds: true } }),
    db().auditEvent.findMany({ where: { subjectId: id } }),
    db().idempotencyKey.findMany(),
  ]);
  return JSON.stringify([record, events, answers], (_, value) =>
    typeof value === 'bigint' ? String(value) : value,
  );
}

describe('a finder’s data', () => {
  it('are seen by registrar and officer, each look is in the history, and nobody else gets them', async () => {
    const made = await log();
    expect(made.finder).toBe('on-file');
    const withKey = {
      ...contextOf(lab.as.registrar),
      idempotency: { key: randomUUID(), route: 'x', bodyDigest: 'y' },
    };
    expect(await lookUpFinder(withKey, made.id)).toMatchObject(ADA);
    for (const role of ['volunteer', 'preparator', 'curator', 'administrator', 'visitor'] as const) {
      await expect(lookUpFinder(contextOf(lab.as[role]), made.id)).rejects.toMatchObject({
        code: 'forbidden',
      });
    }
    const looked = await db().auditEvent.findMany({
      where: { subjectId: made.id, kind: 'salvage.finder-looked-up' },
    });
    expect(looked).toMatchObject([{ actorId: lab.as.registrar.personId }]);
    const kept = await keptElsewhere(made.id);
    for (const word of Object.values(ADA)) expect(kept).not.toContain(word);
  });

  it('are changed with a reason; the history says that, not what', async () => {
    const made = await log();
    const changed = await changeFinder(
      contextOf(lab.as.registrar),
      made.id,
      finderChangeRequest.parse({
        version: made.version,
        reason: 'wrote again',
        finder: { ...ADA, phone: '555 0199' },
      }),
    );
    expect(changed.version).toBe(made.version + 1);
    expect(await keptElsewhere(made.id)).not.toContain('555 0199');
  });

  it('are erased on request; record, custody, verdict and audit chain stay', async () => {
    const made = await log();
    const erased = await eraseFinder(contextOf(lab.as['permit-officer']), made.id, {
      version: made.version,
      reason: 'asked by letter',
    });
    expect(erased).toMatchObject({ finder: 'erased', coverage: made.coverage, number: made.number });
    const row = await db().finder.findFirstOrThrow({ where: { salvages: { some: { id: made.id } } } });
    expect(row).toMatchObject({ name: null, email: null, phone: null, address: null });
    expect(await lookUpFinder(contextOf(lab.as.registrar), made.id)).toMatchObject({ name: null });
    await expect(
      recheckFind(contextOf(lab.as.curator), made.id, { version: erased.version }),
    ).rejects.toMatchObject({ code: 'conflict', message: expect.stringContaining('last check stands') });
    expect(await verifyChain(lab.collectionId)).toMatchObject({ ok: true });
  });
});

const send = (token: string, body: unknown, headers: Record<string, string> = {}) =>
  POST(
    new Request(`http://localhost/api/drop-off/${token}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'x-forwarded-for': randomUUID(), ...headers },
      body: typeof body === 'string' ? body : JSON.stringify(body),
    }),
    { params: Promise.resolve({ token }) },
  );
const slipToken = (made: { path: string }) => made.path.split('/').at(-1) ?? '';
const dropped = (changes: Record<string, unknown> = {}) => ({
  requestKey: randomUUID(),
  what: 'a small brown bird',
  found: { earliestOn: '2025-05-01', latestOn: '2025-05-01', verbatim: 'yesterday' },
  where: 'by the tram stop',
  how: 'lay there',
  name: 'Bert Passer',
  contact: 'bert@finder.example',
  ...changes,
});

describe('a drop-off slip', () => {
  const slip = (label = 'Freezer by the door') => makeSlip(contextOf(lab.as.preparator), { label });

  it('lets a report in that waits in triage, once however often it is sent, and answers a code only', async () => {
    const made = await slip();
    const body = dropped();
    const answers = await Promise.all([send(slipToken(made), body), send(slipToken(made), body)]);
    const [first, second] = await Promise.all(answers.map((answer) => answer.json()));
    expect(first).toEqual({ received: true, code: expect.stringMatching(/^[A-Z2-9]{6}$/) });
    expect(second).toEqual(first);
    const { rows } = await listFinds(lab.as.curator, { size: 50, q: first.code });
    expect(rows).toMatchObject([{ state: 'reported', source: 'drop-off', coverage: 'needs-attention' }]);
    const record = await showFind(lab.as.curator, rows[0]?.id ?? '');
    expect(record).toMatchObject({
      custody: [{ from: 'the finder', to: 'Freezer by the door' }],
      loggedBy: null,
    });
    expect(await lookUpFinder(contextOf(lab.as.registrar), record.id)).toMatchObject({
      email: 'bert@finder.example',
    });
    expect(
      (await listSlips(lab.as.preparator, { size: 50 })).rows.find(({ id }) => id === made.id)?.reports,
    ).toBe(1);
  });

  it('the device’s position says the county', async () => {
    const answer = await send(
      slipToken(await slip()),
      dropped({ latitude: 39.96, longitude: -83, uncertaintyM: 20 }),
    );
    const { code } = await answer.json();
    const { rows } = await listFinds(lab.as.curator, { size: 50, q: code });
    expect(rows).toMatchObject([{ county: 'Franklin', stateProvince: 'Ohio' }]);
  });

  it('is kept as a digest, can be printed again, and opens nothing once it is ended', async () => {
    const made = await slip();
    const token = slipToken(made);
    const row = await db().dropOffSlip.findUniqueOrThrow({ where: { id: made.id } });
    expect(JSON.stringify(row)).not.toContain(token);
    expect((await describeSlip(lab.as.registrar, made.id)).path).toBe(made.path);
    expect(Object.keys(await openSlip(token)).sort()).toEqual(['institution', 'today']);
    await endSlip(contextOf(lab.as.registrar), made.id);
    await expect(openSlip(token)).rejects.toMatchObject({ code: 'not-found' });
    expect((await send(token, dropped())).status).toBe(404);
    await expect(describeSlip(lab.as.registrar, made.id)).rejects.toMatchObject({ code: 'conflict' });
  });

  it.each([
    ['an unknown token', 'A'.repeat(22), dropped(), 404],
    ['an empty report', null, {}, 422],
    ['no JSON', null, '{', 400],
    ['a book', null, dropped({ how: 'x'.repeat(30_000) }), 400],
    [
      'a day that does not exist',
      null,
      dropped({ found: { earliestOn: '2025-02-30', latestOn: '2025-02-30', verbatim: '' } }),
      422,
    ],
    [
      'a day to come',
      null,
      dropped({ found: { earliestOn: '2999-01-01', latestOn: '2999-01-01', verbatim: '' } }),
      422,
    ],
    ['another site', null, dropped(), 403],
  ])('answers %s without a record', async (name, token, body, status) => {
    const before = await db().salvageRecord.count();
    const headers: Record<string, string> =
      name === 'another site' ? { origin: 'https://elsewhere.example', host: 'localhost' } : {};
    const answer = await send(token ?? slipToken(await slip()), body, headers);
    expect(answer.status).toBe(status);
    expect(await db().salvageRecord.count()).toBe(before);
  });

  it('takes odd contact data as they come', async () => {
    const token = slipToken(await slip());
    for (const contact of ['at the@pub', 'y'.repeat(150), null]) {
      expect((await send(token, dropped({ contact }))).status).toBe(200);
    }
  });

  it('slows down a flood from one address', async () => {
    const token = slipToken(await slip());
    const address = { 'x-forwarded-for': randomUUID() };
    const statuses: number[] = [];
    for (let count = 0; count < 21; count += 1) statuses.push((await send(token, {}, address)).status);
    expect(statuses.slice(0, 20).every((status) => status === 422)).toBe(true);
    expect(statuses.at(-1)).toBe(429);
  });

  it('prints as a page for those who make slips', async () => {
    const made = await slip();
    const print = (id: string) =>
      printSlip(new Request(`http://museum.example/api/salvage/slips/${id}/label`), {
        params: Promise.resolve({ id }),
      });
    signedIn.actor = lab.as.volunteer;
    expect((await print(made.id)).status).toBe(403);
    signedIn.actor = lab.as.registrar;
    const answer = await print(made.id);
    expect(answer.headers.get('content-type')).toBe('application/pdf');
    expect(
      Buffer.from(await answer.arrayBuffer())
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');
    expect((await print(randomUUID())).status).toBe(404);
  });

  it('is not made by volunteers', async () => {
    await expect(makeSlip(contextOf(lab.as.volunteer), { label: 'x' })).rejects.toMatchObject({
      code: 'forbidden',
    });
  });
});
