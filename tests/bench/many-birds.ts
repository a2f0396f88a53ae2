import { randomUUID } from 'node:crypto';
import { dateColumn } from '@/lib/platform/clock';
import type { Db } from '@/lib/platform/db';
import { makeTaxon } from '@/seed/factories';

const TAXA = [
  'Turdus migratorius',
  'Catharus ustulatus',
  'Zonotrichia albicollis',
  'Setophaga coronata',
  'Regulus satrapa',
  'Melospiza melodia',
  'Colaptes auratus',
  'Certhia americana',
];
const COUNTIES = ['Franklin', 'Delaware', 'Licking', 'Union', 'Madison', ''];
const CAUSES = ['window-strike', 'window-strike', 'vehicle-strike', 'cat', 'unknown'];
const DAY_MS = 86_400_000;

const dayFrom = (first: string, days: number): string =>
  new Date(Date.parse(`${first}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);
const pick = <T>(from: readonly T[], index: number): T => from[index % from.length] as T;

/** Accepted birds found over two years, each with its carcass; some left, some were prepared and catalogued. */
export async function makeManyBirds(
  db: Db,
  input: { collectionId: string; permitId: string; personId: string; firstOn: string; count: number },
): Promise<void> {
  const { collectionId, permitId, personId } = input;
  // One after the other: the first makes the checklist of an empty database.
  const taxa: string[] = [];
  for (const scientificName of TAXA) taxa.push(await makeTaxon(db, { scientificName }));
  const finder = await db.finder.create({ data: { collectionId, name: 'Milo Prentice' } });
  const birds = Array.from({ length: input.count }, (_, index) => ({
    index,
    salvageId: randomUUID(),
    birdId: randomUUID(),
    number: `S-${String(index + 1).padStart(5, '0')}`,
    taxonId: pick(taxa, index * 7 + Math.floor(index / 11)),
    foundOn: dayFrom(input.firstOn, Math.floor((index * 730) / input.count)),
  }));
  const at = (day: string, hour: number) => new Date(`${day}T${String(hour).padStart(2, '0')}:00:00Z`);
  await db.salvageRecord.createMany({
    data: birds.map((bird) => ({
      id: bird.salvageId,
      collectionId,
      permitId,
      number: bird.number,
      state: 'accepted',
      coverage: 'covered',
      taxonId: bird.taxonId,
      verbatimTaxon: 'as written on the bag',
      foundFrom: dateColumn(bird.foundOn),
      foundTo: dateColumn(bird.foundOn),
      receivedOn: dateColumn(bird.foundOn),
      country: 'US',
      stateProvince: 'Ohio',
      county: pick(COUNTIES, bird.index * 5 + Math.floor(bird.index / 7)),
      locality: 'Below a window',
      circumstances: 'found dead',
      cause: pick(CAUSES, bird.index),
      finderId: bird.index % 3 === 0 ? finder.id : null,
      loggedById: personId,
      loggedAt: at(bird.foundOn, 18),
    })),
  });
  await db.bird.createMany({
    data: birds.map((bird) => ({
      id: bird.birdId,
      collectionId,
      salvageId: bird.salvageId,
      number: bird.number,
      taxonId: bird.taxonId,
      ...fateOf(bird.index, bird.foundOn, at(bird.foundOn, 19)),
    })),
  });
  const prepared = birds.filter(({ index }) => index % 4 === 1);
  await db.material.createMany({
    data: [
      ...birds.map((bird) => ({
        collectionId,
        birdId: bird.birdId,
        kind: 'carcass',
        suffix: 'C',
        createdAt: at(bird.foundOn, 18),
        custody: custodyOf(bird.index),
      })),
      ...prepared.flatMap((bird) =>
        (['skin', 'skeleton'] as const).map((kind) => ({
          collectionId,
          birdId: bird.birdId,
          kind,
          suffix: kind === 'skin' ? 'S' : 'K',
          createdAt: at(dayFrom(bird.foundOn, 40), 15),
        })),
      ),
    ],
  });
}

function fateOf(index: number, foundOn: string, frozenAt: Date) {
  if (index % 10 === 2) {
    return {
      state: 'transferred',
      disposition: 'transferred',
      disposedOn: dateColumn(dayFrom(foundOn, 30)),
      dispositionDetail: {
        recipient: 'County nature school',
        recipientAuthority: index % 20 === 2 ? 'ED-88' : undefined,
        recordedAt: `${dayFrom(foundOn, 30)}T12:00:00Z`,
      },
    };
  }
  if (index % 25 === 4) {
    return {
      state: 'discarded',
      disposition: 'destroyed',
      disposedOn: dateColumn(dayFrom(foundOn, 12)),
      dispositionDetail: {
        method: 'incinerated',
        witness: 'Rosa Okafor',
        recordedAt: `${dayFrom(foundOn, 12)}T12:00:00Z`,
      },
    };
  }
  return { state: index % 4 === 1 ? 'prepared' : 'in-freezer', frozenAt };
}

function custodyOf(index: number): string {
  if (index % 10 === 2 || index % 25 === 4) return 'deaccessioned';
  return index % 4 === 1 ? 'used-up' : 'on-shelf';
}
