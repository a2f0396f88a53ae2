import { beforeAll, describe, expect, it } from 'vitest';
import { makeAccession, showAccession } from '@/lib/accessions/service';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection, makeSalvage } from '@/seed/factories';

let collectionId: string;
let registrar: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  registrar = await makeActor(db(), collectionId, 'registrar');
});

const request = (...salvageIds: string[]) => ({
  kind: 'salvage' as const,
  source: 'Test donors',
  receivedOn: '2025-05-01',
  salvageIds,
});

describe('makeAccession', () => {
  it('numbers the lot, points the birds to it and tells the story', async () => {
    const bird = await makeSalvage(db(), collectionId);
    const made = await makeAccession(contextOf(registrar), request(bird.id));
    expect(made.lots.map((lot) => lot.number)).toEqual([bird.number]);
    const events = await db().auditEvent.findMany({ where: { subjectId: { in: [made.id, bird.id] } } });
    expect(events.map((event) => event.kind).sort()).toEqual(['accessions.lot-added', 'accessions.made']);
  });

  it('gives 200 simultaneous accessions 200 consecutive numbers', async () => {
    const own = await makeCollection(db());
    const actor = await makeActor(db(), own, 'registrar');
    const birds = await Promise.all(Array.from({ length: 200 }, () => makeSalvage(db(), own)));
    const made = await Promise.all(birds.map((bird) => makeAccession(contextOf(actor), request(bird.id))));
    const running = made.map(({ number }) => Number(/(\d+)$/.exec(number)?.[1])).sort((a, b) => a - b);
    expect(running).toEqual(Array.from({ length: 200 }, (_, index) => index + 1));
  });

  it('takes a bird once: a second accession of it names the first and uses up no number', async () => {
    const [first, second] = [await makeSalvage(db(), collectionId), await makeSalvage(db(), collectionId)];
    const made = await makeAccession(contextOf(registrar), request(first.id));
    await expect(makeAccession(contextOf(registrar), request(first.id))).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ message: `${first.number} is already in accession ${made.number}.` }],
    });
    const after = await makeAccession(contextOf(registrar), request(second.id));
    const running = (number: string) => Number(/(\d+)$/.exec(number)?.[1]);
    expect(running(after.number)).toBe(running(made.number) + 1);
  });

  it.each([
    ['not accepted', { state: 'in-triage' }, 'not been accepted'],
    ['not covered', { coverage: 'needs-attention' }, 'permit officer must rule'],
    ['arrived later', { receivedOn: '2025-06-01' }, 'after this date'],
  ])('refuses a bird that was %s', async (_, input, sentence) => {
    const bird = await makeSalvage(db(), collectionId, input);
    await expect(makeAccession(contextOf(registrar), request(bird.id))).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ message: expect.stringContaining(sentence) }],
    });
    expect((await db().salvageRecord.findUniqueOrThrow({ where: { id: bird.id } })).accessionId).toBeNull();
  });

  it('refuses those who may not, and shows nothing of another collection', async () => {
    const bird = await makeSalvage(db(), collectionId);
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    await expect(makeAccession(contextOf(volunteer), request(bird.id))).rejects.toMatchObject({
      code: 'forbidden',
    });
    const made = await makeAccession(contextOf(registrar), request(bird.id));
    const stranger = await makeActor(db(), await makeCollection(db()), 'registrar');
    await expect(showAccession(stranger, made.id)).rejects.toMatchObject({ code: 'not-found' });
  });
});
