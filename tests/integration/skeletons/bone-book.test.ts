import { beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import {
  boneBookVerdict,
  boneImbalancesOf,
  findImbalances,
  loadBoneBook,
  saveBoneBook,
  showBoneBook,
} from '@/lib/skeletons/book';
import { makeEntry, nameOf, patchBook } from '@/lib/skeletons/rules/entries';
import { defaultSplit } from '@/lib/skeletons/rules/split';
import type { BoneBook, BoneEntry } from '@/lib/skeletons/schema';
import { contextOf, makeActor, makeCollection, makeTaxon } from '@/seed/factories';
import { makeBenchBird, makeMaterial } from '@/seed/factories/prepared';

let collectionId: string;
let preparator: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
});

const SIDES = { wing: 'right', leg: 'right' } as const;
const full = defaultSplit('skin-with-partial-skeleton', SIDES);
const idOf = (actor: Actor): string => actor.personId ?? '';
const benchBird = (input: Partial<Parameters<typeof makeBenchBird>[2]> = {}) =>
  makeBenchBird(db(), collectionId, { preparatorId: idOf(preparator), ...input });
const save = (
  birdId: string,
  book: Pick<BoneBook, 'version'>,
  entries: BoneEntry[],
  actor = preparator,
  explanation: string | null = null,
) => saveBoneBook(contextOf(actor), birdId, { version: book.version, entries, explanation });

describe('the bone book', () => {
  it('is kept whole, says whether it balances, and tells which elements changed', async () => {
    const bird = await benchBird();
    const empty = await showBoneBook(preparator, bird.id);
    expect(empty).toMatchObject({ entries: [], lock: null, abilities: { write: true } });
    expect(empty.verdict.balanced).toBe(false);

    const filled = await save(bird.id, empty, full);
    expect(filled.version).toBe(empty.version + 1);
    expect(filled.verdict).toMatchObject({ balanced: true, accountedFor: true, findings: [] });
    expect(filled.entries.map(nameOf).sort()).toEqual(full.map(nameOf).sort());

    await save(bird.id, filled, patchBook(filled.entries, 'humerus/left/whole', { place: 'discarded' }));
    const events = await db().auditEvent.findMany({
      where: { birdId: bird.id, kind: 'skeletons.book-saved' },
      orderBy: { seq: 'asc' },
    });
    expect(events).toHaveLength(2);
    expect(events[1]?.payload).toMatchObject({ counts: { discarded: 1 }, balanced: true });
    expect(events[1]?.payload).toEqual(
      expect.objectContaining({ changes: { 'left humerus': { from: 'skin', to: 'discarded' } } }),
    );
  });

  it('stores what is undecided or missing without a place, and asks for an explanation', async () => {
    const bird = await benchBird();
    const book = await showBoneBook(preparator, bird.id);
    const torn = patchBook(patchBook(full, 'ulna/left/whole', { place: null }), 'femur/right/whole', {
      state: 'missing',
    });
    const saved = await save(bird.id, book, torn);
    expect(saved.verdict.findings.map(({ code, element }) => [code, element])).toEqual([['nowhere', 'ulna']]);
    expect(saved.verdict.accountedFor).toBe(false);
    const rows = await db().boneEntry.findMany({ where: { birdId: bird.id, place: null } });
    expect(rows.map(({ element, state }) => [element, state]).sort()).toEqual([
      ['femur', 'missing'],
      ['ulna', 'whole'],
    ]);
    const explained = await save(bird.id, saved, saved.entries, preparator, 'The ulna went with the wing.');
    expect(explained.verdict).toMatchObject({ balanced: false, accountedFor: true });
    expect(boneBookVerdict(await loadBoneBook(db(), bird.id)).accountedFor).toBe(true);
  });

  it('is judged of several birds at once as of each, also when it was seen before', async () => {
    const [first, second, empty] = [await benchBird(), await benchBird(), await benchBird()];
    const missing = patchBook(full, 'femur/right/whole', { state: 'missing', note: 'Not found.' });
    const undecided = patchBook(full, 'ulna/left/whole', { place: null });
    await save(first.id, await showBoneBook(preparator, first.id), missing);
    await save(second.id, await showBoneBook(preparator, second.id), undecided);
    const birds = [first, second, empty].map(({ id }) => ({ id, taxon: null }));
    const alone = async (id: string) => boneImbalancesOf((await loadBoneBook(db(), id)).entries, null);
    const each = [await alone(first.id), await alone(second.id), await alone(empty.id)];
    expect(each.map(({ length }) => length > 0)).toEqual([false, true, true]);
    for (const _time of [1, 2]) expect([...(await findImbalances(db(), birds)).values()]).toEqual(each);
    await save(first.id, await showBoneBook(preparator, first.id), undecided);
    expect((await findImbalances(db(), birds)).get(first.id)).toEqual(each[1]);
  });

  it('answers a save on an older version with the book as it stands, and loses neither', async () => {
    const bird = await benchBird();
    const seen = await showBoneBook(preparator, bird.id);
    const other = await makeActor(db(), collectionId, 'curator');
    await save(bird.id, seen, full, other);
    const mine = patchBook(full, 'sternum/unpaired/whole', { place: 'lost' });
    await expect(save(bird.id, seen, mine)).rejects.toMatchObject({
      code: 'stale-version',
      status: 409,
      data: { current: { version: seen.version + 1 } },
    });
    const stored = await showBoneBook(preparator, bird.id);
    expect(stored.entries.find(({ element }) => element === 'sternum')?.place).toBe('skeleton');
  });

  it('lets exactly one of many simultaneous savers through', async () => {
    const bird = await benchBird();
    const seen = await showBoneBook(preparator, bird.id);
    const results = await Promise.allSettled(Array.from({ length: 8 }, () => save(bird.id, seen, full)));
    expect(results.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    const refused = results.flatMap((one) => (one.status === 'rejected' ? [one.reason.code] : []));
    expect(new Set(refused)).toEqual(new Set(['stale-version']));
  });

  it.each([
    ['in-review', 'in review'],
    ['approved', 'approved and locked'],
  ])('is closed while the record is %s', async (state, sentence) => {
    const bird = await benchBird({ state });
    const book = await showBoneBook(preparator, bird.id);
    expect(book).toMatchObject({ lock: expect.stringContaining(sentence), abilities: { write: false } });
    await expect(save(bird.id, book, full)).rejects.toMatchObject({ code: 'conflict', status: 409 });
    expect(await db().boneEntry.count({ where: { birdId: bird.id } })).toBe(0);
  });

  it('is locked with an approved record by the database too', async () => {
    const bird = await benchBird();
    await save(bird.id, await showBoneBook(preparator, bird.id), full);
    for (const state of ['in-review', 'approved'])
      await db().benchRecord.update({ where: { birdId: bird.id }, data: { state } });
    await expect(db().boneEntry.deleteMany({ where: { birdId: bird.id } })).rejects.toThrow(
      'approved and locked',
    );
    await expect(
      db().boneEntry.updateMany({ where: { birdId: bird.id }, data: { place: 'lost' } }),
    ).rejects.toThrow('approved and locked');
  });

  it('refuses an element twice: the service by name, the database whatever was asked', async () => {
    const bird = await benchBird();
    const book = await showBoneBook(preparator, bird.id);
    const half = makeEntry('humerus', 'left', { portion: 'distal', place: 'skin' });
    await expect(save(bird.id, book, [...full, half])).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'entries.humerus.left', message: expect.stringContaining('whole and in part') }],
    });
    await expect(
      db().boneEntry.createMany({
        data: [makeEntry('humerus', 'left', { place: 'skeleton' }), half].map((entry) => ({
          ...entry,
          birdId: bird.id,
        })),
      }),
    ).rejects.toThrow('bone_once');
    await expect(
      db().boneEntry.create({
        data: { ...makeEntry('femur', 'left', { state: 'missing' }), place: 'skin', birdId: bird.id },
      }),
    ).rejects.toThrow('bone_missing_has_no_place');
    expect(await db().boneEntry.count({ where: { birdId: bird.id } })).toBe(0);
  });

  it('keeps an element in a material of its own bird only', async () => {
    const [bird, other] = [await benchBird(), await benchBird()];
    const own = await makeMaterial(db(), { collectionId, birdId: bird.id, kind: 'skeleton' });
    const strange = await makeMaterial(db(), { collectionId, birdId: other.id, kind: 'skeleton' });
    const book = await showBoneBook(preparator, bird.id);
    const into = (materialId: string) => patchBook(full, 'femur/right/whole', { materialId });
    await expect(save(bird.id, book, into(strange.id))).rejects.toMatchObject({ code: 'not-valid' });
    const saved = await save(bird.id, book, into(own.id));
    expect(saved.entries.find(({ materialId }) => materialId !== null)?.materialId).toBe(own.id);
  });

  it('may be written by those who work on the bird, and seen by the others', async () => {
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    const [own, scribed, others] = [
      await benchBird({ preparatorId: idOf(volunteer) }),
      await benchBird({ scribeId: idOf(volunteer) }),
      await benchBird(),
    ];
    for (const bird of [own, scribed]) {
      await expect(save(bird.id, { version: 1 }, full, volunteer)).resolves.toMatchObject({ version: 2 });
    }
    await expect(save(others.id, { version: 1 }, full, volunteer)).rejects.toMatchObject({
      code: 'forbidden',
    });
    for (const role of ['registrar', 'permit-officer'] as const) {
      const actor = await makeActor(db(), collectionId, role);
      await expect(save(own.id, { version: 2 }, full, actor)).rejects.toMatchObject({ code: 'forbidden' });
      expect((await showBoneBook(actor, own.id)).abilities.write).toBe(false);
    }
    const visitor = await makeActor(db(), collectionId, 'visitor');
    await expect(showBoneBook(visitor, own.id)).rejects.toMatchObject({ code: 'forbidden' });
    const stranger = await makeActor(db(), await makeCollection(db()), 'preparator');
    await expect(showBoneBook(stranger, own.id)).rejects.toMatchObject({ code: 'not-found' });
    await expect(save(own.id, { version: 2 }, full, stranger)).rejects.toMatchObject({ code: 'not-found' });
  });

  it('knows the taxon’s own skeleton and the breaks that the bench wrote down', async () => {
    const taxonId = await makeTaxon(db(), { scientificName: 'Calidris alba' });
    const bird = await benchBird({
      taxonId,
      values: { brokenBones: { value: ['left humerus', 'something in the wing'] } },
    });
    const book = await showBoneBook(preparator, bird.id);
    expect(book.taxon).toMatchObject({ genus: 'Calidris', species: 'Calidris alba' });
    expect(book.recordedDamage).toEqual([{ element: 'humerus', side: 'left', state: 'broken' }]);
    expect(book.unreadDamage).toEqual(['something in the wing']);
    // No hind toe in the sanderling: a book without one balances, where a robin's does not.
    const withoutHallux = full.filter(({ element }) => !['toe-1', 'metatarsal-1'].includes(element));
    expect((await save(bird.id, book, withoutHallux)).verdict.balanced).toBe(true);
    const robin = await benchBird();
    const robins = await save(robin.id, await showBoneBook(preparator, robin.id), withoutHallux);
    expect(robins.verdict.findings).toHaveLength(4);
  });
});
