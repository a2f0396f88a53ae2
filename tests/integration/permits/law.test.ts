import { beforeAll, describe, expect, it } from 'vitest';
import usFederal from '@/lib/permits/packs/us-federal.json';
import { loadCoverageSources } from '@/lib/permits/service/law';
import { confirmRule, listPacks, loadPack, showPack, switchPack } from '@/lib/permits/service/rule-packs';
import {
  decideStatus,
  importStatusList,
  listDecisions,
  listStatusLists,
  withdrawStatusDecision,
} from '@/lib/permits/service/status-lists';
import { importListRequest } from '@/lib/permits/wire';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection, makeTaxon } from '@/seed/factories';

let officer: Actor;

beforeAll(async () => {
  officer = await makeActor(db(), await makeCollection(db()), 'permit-officer');
});

const sources = (actor: Actor) =>
  loadCoverageSources(db(), actor.collectionId, { today: '2025-06-01', found: ['2025-06-01'] });

describe('rule packs', () => {
  it('the shipped pack is there at first use, once, however many ask at once', async () => {
    const actor = await makeActor(db(), await makeCollection(db()), 'permit-officer');
    await Promise.all(Array.from({ length: 5 }, () => listPacks(actor)));
    const { rows } = await listPacks(actor);
    expect(rows).toMatchObject([{ key: 'us-federal', inForce: true }]);
    expect(rows[0]?.unverified).toBeGreaterThan(0);
  });

  it('a recalled rule is unverified until an officer confirms it, with a note and a name', async () => {
    const [row] = (await listPacks(officer)).rows;
    if (row === undefined) throw new Error('no pack');
    const rule = (await showPack(officer, row.id)).list.find(({ unverified }) => unverified);
    if (rule === undefined) throw new Error('no unverified rule');
    const curator = await makeActor(db(), officer.collectionId, 'curator');
    const confirm = { ruleId: rule.id, confirmed: true, note: 'Read in the edition at hand.' };
    await expect(confirmRule(contextOf(curator), row.id, confirm)).rejects.toMatchObject({
      code: 'forbidden',
    });
    const after = await confirmRule(contextOf(officer), row.id, confirm);
    expect(after.list.find(({ id }) => id === rule.id)).toMatchObject({
      unverified: false,
      confirmed: { by: officer.name },
    });
    expect((await sources(officer)).confirmedRuleIds).toContain(rule.id);
    await expect(confirmRule(contextOf(officer), row.id, confirm)).rejects.toMatchObject({
      code: 'conflict',
    });
  });

  it('a new version takes over; what was confirmed word for word stays confirmed, what changed does not', async () => {
    const changed = structuredClone(usFederal);
    changed.version = '9.0.0';
    const recalled = changed.unprotected.filter(({ mark }) => mark === 'recalled');
    const [kept, reworded] = recalled;
    if (kept === undefined || reworded === undefined) throw new Error('two recalled rules are needed');
    const actor = await makeActor(db(), await makeCollection(db()), 'permit-officer');
    const [row] = (await listPacks(actor)).rows;
    for (const { id } of recalled) {
      await confirmRule(contextOf(actor), row?.id ?? '', { ruleId: id, confirmed: true, note: 'read' });
    }
    reworded.text = `${reworded.text} In another wording.`;
    const loaded = await loadPack(contextOf(actor), { fileName: 'next.json', text: JSON.stringify(changed) });
    expect(loaded).toMatchObject({ version: '9.0.0', inForce: true });
    expect(loaded.list.find(({ id }) => id === kept.id)?.unverified).toBe(false);
    expect(loaded.list.find(({ id }) => id === reworded.id)?.unverified).toBe(true);
    await switchPack(contextOf(actor), loaded.id, { active: false, reason: 'a mistake in it' });
    expect((await listPacks(actor)).rows.find(({ inForce }) => inForce)?.version).toBe(usFederal.version);
  });

  it.each([
    ['no JSON', '{', 'not valid JSON'],
    ['a wrong field', JSON.stringify({ ...usFederal, version: 'two' }), 'three numbers'],
    [
      'an example that works out otherwise',
      JSON.stringify({
        ...usFederal,
        version: '8.0.0',
        examples: [{ name: 'wrong', facts: {}, today: '2025-06-01', expect: { verdict: 'not-covered' } }],
      }),
      'expected not-covered',
    ],
  ])('a file with %s is refused with what to mend', async (_, text, sentence) => {
    await expect(loadPack(contextOf(officer), { fileName: 'bad.json', text })).rejects.toMatchObject({
      code: 'not-valid',
      fields: expect.arrayContaining([{ path: 'text', message: expect.stringContaining(sentence) }]),
    });
  });
});

describe('lists of protected birds', () => {
  const csv =
    'scientific_name_listed,english_name\nTurdus migratorius,American Robin\nOldus namus,Blackish Thing\nNemo nemonis,Nobody\n,\n';
  const request = (edition: string) =>
    importListRequest.parse({
      listId: 'us-10.13',
      title: 'A list for this test',
      jurisdiction: 'US',
      effect: 'protects',
      source: 'written here',
      edition,
      editionOn: '2020-04-16',
      csv,
    });

  it('come in with their edition; names that match nothing are shown, never dropped', async () => {
    await makeTaxon(db(), { scientificName: 'Turdus migratorius', commonName: 'American Robin' });
    await makeTaxon(db(), { scientificName: 'Novus namus', commonName: 'Blackish Thing' });
    expect((await listStatusLists(officer)).missing.map(({ listId }) => listId)).toContain('us-10.13');
    const { list, errors } = await importStatusList(contextOf(officer), request('first'));
    expect(list).toMatchObject({ names: 3, current: true, unresolved: [{ name: 'Nemo nemonis' }] });
    expect(errors).toEqual([{ line: 5, message: 'no scientific name' }]);
    const { protectedStatus } = await sources(officer);
    const bird = (name: string) => ({
      name,
      rank: 'species' as const,
      genus: name.split(' ')[0] ?? null,
      family: null,
      order: null,
      synonyms: [],
      mayBe: [],
    });
    expect(protectedStatus.statusOf(bird('Turdus migratorius'), 'US').status).toBe('protected');
    const renamed = protectedStatus.statusOf(bird('Novus namus'), 'US');
    expect(renamed.status).toBe('protected');
    expect(renamed.basis).toContain('let a person confirm it');
    await expect(importStatusList(contextOf(officer), request('first'))).rejects.toMatchObject({
      code: 'conflict',
    });
    const second = await importStatusList(contextOf(officer), request('second'));
    expect(second.list.current).toBe(true);
  });

  it('refuse another file, and other roles', async () => {
    const wrong = { ...request('third'), csv: 'name,colour\nrobin,red\n' };
    await expect(importStatusList(contextOf(officer), wrong)).rejects.toMatchObject({
      fields: [{ path: 'csv', message: expect.stringContaining('scientific_name_listed') }],
    });
    const registrar = await makeActor(db(), officer.collectionId, 'registrar');
    await expect(importStatusList(contextOf(registrar), request('third'))).rejects.toMatchObject({
      code: 'forbidden',
    });
  });

  it('an officer decides a name with a citation, once, and can withdraw it', async () => {
    const decision = {
      name: 'Gallus gallus',
      jurisdiction: 'US',
      cite: 'the test’s own rule 1',
      reason: 'domestic',
    };
    const made = await decideStatus(contextOf(officer), decision);
    await expect(
      decideStatus(contextOf(officer), { ...decision, name: 'gallus  gallus' }),
    ).rejects.toMatchObject({ code: 'conflict' });
    const fowl = {
      name: 'Gallus gallus',
      rank: 'species' as const,
      genus: 'Gallus',
      family: null,
      order: null,
      synonyms: [],
      mayBe: [],
    };
    expect((await sources(officer)).protectedStatus.statusOf(fowl, 'US').status).toBe('unprotected');
    await withdrawStatusDecision(contextOf(officer), made.id, { reason: 'read again' });
    expect((await sources(officer)).protectedStatus.statusOf(fowl, 'US').status).toBe('unresolved');
    expect((await listDecisions(officer)).rows).toEqual([]);
    await expect(
      withdrawStatusDecision(contextOf(officer), made.id, { reason: 'again' }),
    ).rejects.toMatchObject({ code: 'conflict' });
  });
});
