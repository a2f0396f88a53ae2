import type { Actor } from '@/lib/platform/actor';
import { dateColumn } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { makeActor, makeBird, makeCollection, makePermit, makeTaxon } from '@/seed/factories';

/**
 * Birds of one permit over two years, counted by hand in the tests. Letters are their names here; the number is
 * `RB-<letter>`. Every instant is given: the ledger hears only what was entered by the day a report is made.
 */
export type Museum = {
  collectionId: string;
  permitId: string;
  officer: Actor;
  volunteer: Actor;
  finderId: string;
  /** Salvage record by letter. */
  ids: Map<string, string>;
};

type BirdInput = {
  letter: string;
  foundFrom: string;
  foundTo?: string;
  loggedAt?: string;
  taxonId?: string | null;
  verbatim?: string;
  more?: Record<string, unknown>;
};

export async function makeMuseum(): Promise<Museum> {
  const collectionId = await makeCollection(db());
  const officer = await makeActor(db(), collectionId, 'permit-officer');
  const volunteer = await makeActor(db(), collectionId, 'volunteer');
  const permitId = await makePermit(db(), collectionId, { number: `SV/${collectionId.slice(-4)}` });
  await db().permit.update({
    where: { id: permitId },
    data: {
      clauses: [
        {
          id: '7',
          kind: 'report-due',
          year: { basis: 'calendar' },
          due: { rule: 'month-day', monthDay: '01-31' },
        },
        { id: '8', kind: 'cataloguing-is-disposition', isDisposition: false },
      ],
    },
  });
  const finder = await db().finder.create({ data: { collectionId, name: 'Wanda Łęcka', phone: '555 0100' } });
  return { collectionId, permitId, officer, volunteer, finderId: finder.id, ids: new Map() };
}

/** A counted bird in the freezer, logged the day after it was found unless told otherwise. */
export async function addBird(museum: Museum, input: BirdInput): Promise<string> {
  const loggedAt = new Date(input.loggedAt ?? `${input.foundTo ?? input.foundFrom}T18:00:00Z`);
  const bird = await makeBird(db(), museum.collectionId, {
    permitId: museum.permitId,
    taxonId: await makeTaxon(db()),
    birdState: 'in-freezer',
  });
  await db().salvageRecord.update({
    where: { id: bird.salvageId },
    data: {
      number: `RB-${input.letter}`,
      foundFrom: dateColumn(input.foundFrom),
      foundTo: dateColumn(input.foundTo ?? input.foundFrom),
      loggedAt,
      loggedById: museum.volunteer.personId,
      ...(input.taxonId === null ? { taxonId: null, verbatimTaxon: input.verbatim ?? 'gull sp.' } : {}),
      ...input.more,
    },
  });
  await db().bird.update({ where: { id: bird.id }, data: { frozenAt: loggedAt } });
  await db().material.updateMany({ where: { birdId: bird.id }, data: { createdAt: loggedAt } });
  museum.ids.set(input.letter, bird.salvageId);
  return bird.id;
}

/** The carcass leaves: what the queue's disposal writes. */
export async function dispose(
  birdId: string,
  disposition: 'transferred' | 'destroyed' | 'released',
  on: string,
  detail: Record<string, string>,
): Promise<void> {
  await db().bird.update({
    where: { id: birdId },
    data: {
      disposition,
      state: disposition === 'destroyed' ? 'discarded' : disposition,
      disposedOn: dateColumn(on),
      dispositionDetail: { ...detail, recordedAt: `${on}T15:00:00.000Z` },
    },
  });
  await db().material.updateMany({ where: { birdId }, data: { custody: 'deaccessioned' } });
}

export async function addBirdsOf2024(museum: Museum): Promise<void> {
  await addBird(museum, { letter: 'A', foundFrom: '2024-03-10', more: { finderId: museum.finderId } });
  const b = await addBird(museum, { letter: 'B', foundFrom: '2024-05-02' });
  await dispose(b, 'transferred', '2024-11-01', {
    recipient: 'Teaching collection',
    recipientAuthority: 'T-9',
  });
  const c = await addBird(museum, { letter: 'C', foundFrom: '2024-06-20' });
  await dispose(c, 'destroyed', '2024-07-01', { method: 'incinerated' });
  await addBird(museum, { letter: 'D', foundFrom: '2024-12-15', taxonId: null });
  // The end of its interval lies in the next year: it counts there.
  await addBird(museum, { letter: 'E', foundFrom: '2024-12-30', foundTo: '2025-01-02' });
}

export async function addBirdsOf2025(museum: Museum): Promise<void> {
  const { collectionId, officer } = museum;
  const a = await db().bird.findFirstOrThrow({ where: { salvageId: museum.ids.get('A') } });
  await dispose(a.id, 'transferred', '2025-03-01', { recipient: 'Nature centre' });
  await addBird(museum, { letter: 'F', foundFrom: '2024-08-01', loggedAt: '2025-02-10T09:00:00Z' });
  await addPrepared(museum);
  const h = await addBird(museum, { letter: 'H', foundFrom: '2025-05-01' });
  await db().determination.create({
    data: {
      birdId: h,
      taxonId: await makeTaxon(db(), { scientificName: 'Turdus merula' }),
      verbatim: 'blackbird',
      determinedBy: 'Test curator',
      determinedOn: dateColumn('2025-06-01'),
      recordedAt: new Date('2025-06-01T10:00:00Z'),
    },
  });
  const accession = await db().accession.create({
    data: {
      collectionId,
      number: 'ACC-1',
      kind: 'gift',
      source: 'Village school',
      agreement: 'Letter 12',
      receivedOn: dateColumn('2025-07-07'),
      createdById: officer.personId ?? '',
    },
  });
  await addBird(museum, { letter: 'I', foundFrom: '2025-07-01', more: { accessionId: accession.id } });
  await addBird(museum, { letter: 'J', foundFrom: '2025-08-08', more: { county: '', remarks: '=1+1' } });
  const k = await addBird(museum, {
    letter: 'K',
    foundFrom: '2025-06-10',
    more: { specimenType: 'egg', quantity: 3, cause: 'other' },
  });
  await dispose(k, 'released', '2025-06-20', {
    recipient: 'Wildlife office',
    instruction: '=HYPERLINK("x")',
  });
}

/** G: skinned, its skeleton cleaned, catalogued. */
async function addPrepared(museum: Museum): Promise<void> {
  const { collectionId, officer, volunteer } = museum;
  const g = await addBird(museum, { letter: 'G', foundFrom: '2025-04-03' });
  const finishedAt = new Date('2025-09-02T16:00:00Z');
  await db().material.updateMany({ where: { birdId: g }, data: { custody: 'used-up' } });
  for (const [kind, suffix] of [
    ['skin', 'S'],
    ['skeleton', 'K'],
  ] as const) {
    await db().material.create({ data: { collectionId, birdId: g, kind, suffix, createdAt: finishedAt } });
  }
  await db().benchRecord.create({
    data: {
      collectionId,
      birdId: g,
      prepNumber: 'TV 1',
      state: 'approved',
      styleId: 'skin-with-partial-skeleton',
      preparatorId: volunteer.personId ?? '',
      startedAt: new Date('2025-09-02T09:00:00Z'),
      finishedAt,
    },
  });
  await db().bird.update({ where: { id: g }, data: { state: 'prepared' } });
  await db().catalogueEntry.create({
    data: {
      collectionId,
      birdId: g,
      number: 'TM 100',
      approvedById: officer.personId ?? '',
      approvedAt: new Date('2025-10-10T10:00:00Z'),
      approved: {},
    },
  });
}
