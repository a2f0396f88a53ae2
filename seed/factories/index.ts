import { randomUUID } from 'node:crypto';
import type { Actor, CommandContext } from '@/lib/platform/actor';
import { dateColumn } from '@/lib/platform/clock';
import type { Db } from '@/lib/platform/db';
import type { Role } from '@/lib/platform/permissions';

/**
 * Small makers of rows for tests: each creates the parents it needs. Rows are written directly; what a test is about
 * goes through the services.
 */
let serial = 0;
const next = (): number => {
  serial += 1;
  return serial;
};

export async function makeCollection(db: Db, input: { code?: string; name?: string } = {}): Promise<string> {
  const code = input.code ?? `T${next()}-${randomUUID().slice(0, 8)}`;
  const made = await db.collection.create({ data: { code, name: input.name ?? `Test collection ${code}` } });
  return made.id;
}

export async function makeActor(db: Db, collectionId: string, ...roles: Role[]): Promise<Actor> {
  const name = `Test ${roles.join(' ') || 'nobody'} ${next()}`;
  const person = await db.person.create({
    data: {
      name,
      email: `${randomUUID()}@test.example`,
      memberships: { create: roles.map((role) => ({ role, collectionId })) },
    },
  });
  return { personId: person.id, name, collectionId, roles };
}

export const contextOf = (actor: Actor): CommandContext => ({ actor, requestId: randomUUID() });

export async function makeTaxon(
  db: Db,
  input: { scientificName?: string; commonName?: string; sensitive?: boolean } = {},
): Promise<string> {
  const checklist =
    (await db.checklist.findFirst({ where: { current: true } })) ??
    (await db.checklist.create({
      data: { name: 'Test list', edition: '1', credit: 'invented', current: true },
    }));
  const scientificName = input.scientificName ?? 'Turdus migratorius';
  const found = await db.taxon.findUnique({
    where: { checklistId_scientificName: { checklistId: checklist.id, scientificName } },
  });
  if (found !== null) return found.id;
  const made = await db.taxon.create({
    data: {
      checklistId: checklist.id,
      scientificName,
      commonName: input.commonName ?? null,
      sensitive: input.sensitive ?? false,
      rank: 'species',
      genus: scientificName.split(' ')[0] ?? null,
    },
  });
  return made.id;
}

export async function makePermit(
  db: Db,
  collectionId: string,
  input: { number?: string; effectiveOn?: string; expiresOn?: string } = {},
): Promise<string> {
  const made = await db.permit.create({
    data: {
      collectionId,
      number: input.number ?? `TP-${next()}`,
      authority: 'Test authority',
      kind: 'salvage',
      jurisdiction: 'US',
      holder: 'Test holder',
      effectiveOn: dateColumn(input.effectiveOn ?? '2024-01-01'),
      expiresOn: dateColumn(input.expiresOn ?? '2027-12-31'),
    },
  });
  return made.id;
}

type SalvageInput = {
  state?: string;
  coverage?: string;
  permitId?: string;
  taxonId?: string;
  foundOn?: string;
  receivedOn?: string;
};

export async function makeSalvage(db: Db, collectionId: string, input: SalvageInput = {}) {
  const taxonId = input.taxonId ?? (await makeTaxon(db));
  return db.salvageRecord.create({
    data: {
      collectionId,
      number: `TS-${next()}`,
      state: input.state ?? 'accepted',
      coverage: input.coverage ?? 'covered',
      permitId: input.permitId ?? (await makePermit(db, collectionId)),
      taxonId,
      verbatimTaxon: 'robin',
      foundFrom: dateColumn(input.foundOn ?? '2025-04-03'),
      foundTo: dateColumn(input.foundOn ?? '2025-04-03'),
      receivedOn: dateColumn(input.receivedOn ?? '2025-04-04'),
      country: 'US',
      stateProvince: 'Ohio',
      county: 'Franklin',
      locality: 'Below a window of a library',
      circumstances: 'window strike',
    },
  });
}

/** An accepted, salvaged bird whose carcass waits in the queue. */
export async function makeBird(
  db: Db,
  collectionId: string,
  input: SalvageInput & { birdState?: string; claimedById?: string; styleId?: string } = {},
) {
  const salvage = await makeSalvage(db, collectionId, input);
  return db.bird.create({
    data: {
      collectionId,
      salvageId: salvage.id,
      number: salvage.number,
      taxonId: salvage.taxonId,
      state: input.birdState ?? 'queued',
      claimedById: input.claimedById ?? null,
      styleId: input.styleId ?? 'skin-with-partial-skeleton',
      materials: { create: { collectionId, kind: 'carcass', suffix: 'C' } },
    },
    include: { materials: true },
  });
}
