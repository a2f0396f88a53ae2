import { beforeAll, describe, expect, it } from 'vitest';
import { amendPermitRequest, createPermitRequest } from '@/lib/permits/permit-schema';
import {
  amendPermit,
  correctPermit,
  createPermit,
  listPermits,
  renewPermit,
  showPermit,
} from '@/lib/permits/service/permits';
import type { Actor } from '@/lib/platform/actor';
import { dayIn, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection, makeSalvage, makeTaxon } from '@/seed/factories';

let collectionId: string;
let officer: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  officer = await makeActor(db(), collectionId, 'permit-officer');
});

const request = (changes: Record<string, unknown> = {}) =>
  createPermitRequest.parse({
    number: `SV-${Math.random().toString(36).slice(2, 10)}`,
    authority: 'Federal office',
    kind: 'salvage',
    jurisdiction: 'US',
    effectiveOn: '2024-01-01',
    expiresOn: '2026-12-31',
    holder: { name: 'Test museum' },
    subPermittees: [{ name: 'Ada Sub', fromOn: '2024-01-01', untilOn: '2024-12-31' }],
    clauses: [{ id: '1', kind: 'taxa-allowed', taxa: [{ by: 'all' }] }],
    ...changes,
  });

const quota = (maximum: number) => ({
  id: 'q',
  kind: 'quota' as const,
  text: '',
  taxa: [{ by: 'all' as const }],
  maximum,
  year: { basis: 'calendar' as const },
});

describe('a permit', () => {
  it('is entered with its people and clauses, and its story begins', async () => {
    const made = await createPermit(contextOf(officer), request());
    expect(made).toMatchObject({ version: 1, standing: expect.any(String), abilities: { manage: true } });
    expect(made.subPermittees[0]).toMatchObject({ name: 'Ada Sub', untilOn: '2024-12-31' });
    expect(made.caution).toContain('local rules decide');
    const events = await db().auditEvent.findMany({ where: { subjectId: made.id } });
    expect(events.map(({ kind }) => kind)).toEqual(['permits.created']);
  });

  it('is entered once: the same number of the same authority is refused', async () => {
    const once = request();
    await createPermit(contextOf(officer), once);
    await expect(createPermit(contextOf(officer), once)).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'number', message: expect.stringContaining('entered already') }],
    });
  });

  it('names people by account only if they belong to the collection', async () => {
    const stranger = await makeActor(db(), await makeCollection(db()), 'volunteer');
    const holder = { name: 'Somebody', personId: stranger.personId };
    await expect(createPermit(contextOf(officer), request({ holder }))).rejects.toMatchObject({
      fields: [{ path: 'holder' }],
    });
    const nonsense = request({ holder: { name: 'Somebody', personId: 'nobody' } });
    await expect(createPermit(contextOf(officer), nonsense)).rejects.toMatchObject({ code: 'not-valid' });
  });

  it.each([
    ['a quota of −1', { clauses: [quota(-1)] }, 'a quota cannot be below 0'],
    ['a day that does not exist', { effectiveOn: '2025-02-30' }, 'YYYY-MM-DD'],
    ['an end before its beginning', { expiresOn: '2023-12-31' }, 'expires before it takes effect'],
    ['a clause id used twice', { clauses: [quota(1), quota(2)] }, 'used twice'],
  ])('refuses %s in words', (_, changes, sentence) => {
    const parsed = createPermitRequest.safeParse({ ...request(), ...changes });
    expect(parsed.error?.issues.map(({ message }) => message).join()).toContain(sentence);
  });

  it('is amended from a day on and keeps the earlier text', async () => {
    const made = await createPermit(contextOf(officer), request());
    const amended = await amendPermit(
      contextOf(officer),
      made.id,
      amendPermitRequest.parse({
        version: made.version,
        effectiveOn: '2025-03-01',
        reason: 'The office added a quota.',
        clauses: [...made.clauses, quota(10)],
      }),
    );
    expect(amended.clauses.map(({ id }) => id)).toEqual(['1', 'q']);
    expect(amended.amendments).toMatchObject([
      { effectiveOn: '2025-03-01', version: 1, before: { clauses: [{ id: '1' }] } },
    ]);
    await expect(
      db().permitAmendment.updateMany({ where: { permitId: made.id }, data: { reason: 'another' } }),
    ).rejects.toThrow(/kept/);
  });

  it('answers a stale amendment with what stands now, and changes nothing', async () => {
    const made = await createPermit(contextOf(officer), request());
    const change = (expiresOn: string) =>
      amendPermitRequest.parse({
        version: made.version,
        effectiveOn: '2025-01-01',
        reason: 'longer',
        expiresOn,
      });
    await amendPermit(contextOf(officer), made.id, change('2027-12-31'));
    await expect(amendPermit(contextOf(officer), made.id, change('2028-12-31'))).rejects.toMatchObject({
      code: 'stale-version',
      data: { current: { version: 2, expiresOn: '2027-12-31' } },
    });
    expect((await showPermit(officer, made.id)).amendments).toHaveLength(1);
  });

  it('refuses an amendment before the permit, or before the last amendment', async () => {
    const made = await createPermit(contextOf(officer), request());
    const change = (version: number, effectiveOn: string) =>
      amendPermitRequest.parse({ version, effectiveOn, reason: 'x', expiresOn: '2027-06-30' });
    await expect(amendPermit(contextOf(officer), made.id, change(1, '2023-06-01'))).rejects.toMatchObject({
      fields: [{ path: 'effectiveOn' }],
    });
    await amendPermit(contextOf(officer), made.id, change(1, '2025-06-01'));
    await expect(amendPermit(contextOf(officer), made.id, change(2, '2025-05-01'))).rejects.toMatchObject({
      fields: [{ message: expect.stringContaining('cannot begin before it') }],
    });
  });

  it('is corrected with a reason, and renewed by the permit that follows', async () => {
    const made = await createPermit(contextOf(officer), request());
    const corrected = await correctPermit(contextOf(officer), made.id, {
      version: 1,
      reason: 'misread',
      authority: 'Regional office',
    });
    expect(corrected.authority).toBe('Regional office');
    const next = await renewPermit(contextOf(officer), made.id, {
      number: `${made.number}-R`,
      effectiveOn: '2027-01-01',
      expiresOn: '2029-12-31',
    });
    expect(next).toMatchObject({ replaces: { id: made.id }, subPermittees: [], clauses: [{ id: '1' }] });
    expect((await showPermit(officer, made.id)).replacedBy).toEqual([{ id: next.id, number: next.number }]);
  });

  it('warns ahead of its end, its report and a quota that is nearly used', async () => {
    const own = await makeCollection(db());
    const actor = await makeActor(db(), own, 'permit-officer');
    const today = dayIn('UTC', now());
    const soon = new Date(now().getTime() + 20 * 86_400_000).toISOString().slice(0, 10);
    const made = await createPermit(
      contextOf(actor),
      request({
        effectiveOn: `${Number(today.slice(0, 4)) - 1}-01-01`,
        expiresOn: soon,
        clauses: [
          quota(2),
          { id: 'r', kind: 'report-due', year: { basis: 'calendar' }, due: { rule: 'days-after', days: 30 } },
        ],
      }),
    );
    const taxonId = await makeTaxon(db());
    for (let bird = 0; bird < 2; bird += 1) {
      await makeSalvage(db(), own, { permitId: made.id, taxonId, foundOn: today, receivedOn: today });
    }
    const [row] = (await listPermits(actor, { size: 50 })).rows;
    expect(row?.birds).toBe(2);
    expect(row?.warnings.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['permit-expires', 'quota-used']),
    );
    expect((await showPermit(actor, made.id)).quotas).toMatchObject([{ used: 2, maximum: 2 }]);
  });

  it('is nobody else’s: other roles may not change it, other collections do not see it', async () => {
    const made = await createPermit(contextOf(officer), request());
    for (const role of ['volunteer', 'preparator', 'curator', 'registrar', 'administrator'] as const) {
      const actor = await makeActor(db(), collectionId, role);
      await expect(createPermit(contextOf(actor), request())).rejects.toMatchObject({ code: 'forbidden' });
      expect((await showPermit(actor, made.id)).abilities.manage).toBe(false);
    }
    const stranger = await makeActor(db(), await makeCollection(db()), 'permit-officer');
    await expect(showPermit(stranger, made.id)).rejects.toMatchObject({ code: 'not-found' });
  });

  it('pages through many permits without losing or repeating one', async () => {
    const own = await makeCollection(db());
    const actor = await makeActor(db(), own, 'permit-officer');
    for (let count = 0; count < 5; count += 1) await createPermit(contextOf(actor), request());
    const seen: string[] = [];
    let after: string | undefined;
    do {
      const page = await listPermits(actor, { size: 2, after });
      seen.push(...page.rows.map(({ id }) => id));
      after = page.next ?? undefined;
    } while (after !== undefined);
    expect(new Set(seen).size).toBe(5);
    expect(seen).toHaveLength(5);
  });
});
