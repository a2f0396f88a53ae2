import { randomUUID } from 'node:crypto';
import { performance } from 'node:perf_hooks';
import { Readable } from 'node:stream';
import { closeDb, db, type Tx } from '@/lib/platform/db';
import { readFreezerLog } from '@/lib/storage/freezer-log';
import { findByCode } from '@/lib/storage/service/codes';
import { showTree, showUnit } from '@/lib/storage/service/tree';
import { makeActor, makeCollection } from '@/seed/factories';

/**
 * How long a scan, a box map and the tree take with 100,000 vials in 1,300 boxes, and what a freezer's log of
 * 1,000,000 readings takes in time and memory. On an empty, migrated database, with little room for garbage, so that the
 * memory is what the log needs: `DATABASE_URL=… node --max-semi-space-size=4 --conditions=react-server --import tsx tests/bench/storage-bench.ts`
 */
const VIALS = 100_000;
const PER_BOX = 77;
const BLOCK = 2_000;
const READINGS = 1_000_000;
const TIMES = 40;

async function fillStore(collectionId: string, personId: string): Promise<void> {
  const room = randomUUID();
  const [freezers, boxes] = [20, Math.ceil(VIALS / PER_BOX)];
  await db().$executeRaw`INSERT INTO "StorageUnit" (id, "collectionId", kind, name, code, path)
    VALUES (${room}::uuid, ${collectionId}::uuid, 'room', 'Room', 'ROOM', 'Room')`;
  await db()
    .$executeRaw`INSERT INTO "StorageUnit" (id, "collectionId", "parentId", kind, name, code, path, "targetTempC")
    SELECT gen_random_uuid(), ${collectionId}::uuid, ${room}::uuid, 'freezer', 'Freezer ' || n, 'F-' || n,
      'Room › Freezer ' || n, -80 FROM generate_series(1, ${freezers}::int) n`;
  await db()
    .$executeRaw`INSERT INTO "StorageUnit" (id, "collectionId", "parentId", kind, name, code, path, rows, columns, naming)
    SELECT gen_random_uuid(), ${collectionId}::uuid, f.id, 'box', 'Box ' || n, 'B-' || n, f.path || ' › Box ' || n, 9, 9, 'row-letter'
    FROM generate_series(1, ${boxes}::int) n JOIN "StorageUnit" f ON f.code = 'F-' || (n % ${freezers}::int + 1)
    WHERE f."collectionId" = ${collectionId}::uuid`;
  // In blocks: each row takes a lock, and a database has room for so many in one transaction. Without triggers: no search
  // asks for these birds, and keeping its index would take most of the time.
  for (let from = 1; from <= VIALS; from += BLOCK) {
    await db().$transaction(async (tx) => {
      await tx.$executeRaw`SET LOCAL session_replication_role = replica`;
      await fillBlock(tx, collectionId, personId, from);
    });
  }
  await db().$executeRaw`WITH vials AS (
      SELECT m.id, (row_number() OVER (ORDER BY m.id) - 1)::int AS at FROM "Material" m WHERE m."collectionId" = ${collectionId}::uuid)
    INSERT INTO "Placement" ("materialId", "unitId", position)
    SELECT v.id, u.id, chr(65 + (v.at % ${PER_BOX}::int) / 9) || ((v.at % ${PER_BOX}::int) % 9 + 1)
    FROM vials v JOIN "StorageUnit" u ON u.code = 'B-' || (v.at / ${PER_BOX}::int + 1) AND u."collectionId" = ${collectionId}::uuid`;
  await db().$executeRawUnsafe('ANALYZE');
}

async function fillBlock(tx: Tx, collectionId: string, personId: string, from: number): Promise<void> {
  await tx.$executeRaw`WITH salvages AS (
      INSERT INTO "SalvageRecord" (id, "collectionId", number, "verbatimTaxon", "foundFrom", "foundTo", "receivedOn", locality, circumstances)
      SELECT gen_random_uuid(), ${collectionId}::uuid, 'BENCH-' || n, 'robin', '2026-01-01', '2026-01-01', '2026-01-02', 'x', 'x'
      FROM generate_series(${from}::int, ${from + BLOCK - 1}::int) n RETURNING id, number)
    INSERT INTO "Bird" (id, "collectionId", "salvageId", number)
    SELECT gen_random_uuid(), ${collectionId}::uuid, id, number FROM salvages`;
  const numbers = Array.from({ length: BLOCK }, (_, at) => `BENCH-${from + at}`);
  await tx.$executeRaw`INSERT INTO "Material" (id, "collectionId", "birdId", kind, suffix, state)
    SELECT gen_random_uuid(), ${collectionId}::uuid, id, 'vial', 'T1', 'stored' FROM "Bird"
    WHERE "collectionId" = ${collectionId}::uuid AND number = ANY(${numbers})`;
  await tx.$executeRaw`INSERT INTO "Vial" ("materialId", code, "collectionId", tissues, preservation, container, "qualityReason", "filledById")
    SELECT m.id, b.number || '-T1', m."collectionId", ARRAY['muscle'], 'frozen', 'cryovial', '', ${personId}::uuid
    FROM "Material" m JOIN "Bird" b ON b.id = m."birdId"
    WHERE m."collectionId" = ${collectionId}::uuid AND b.number = ANY(${numbers})`;
}

async function time(what: string, act: (n: number) => Promise<unknown>): Promise<void> {
  await act(0);
  const took: number[] = [];
  for (let n = 1; n <= TIMES; n += 1) {
    const begun = performance.now();
    await act(n);
    took.push(performance.now() - begun);
  }
  took.sort((a, b) => a - b);
  const of = (share: number) => took[Math.min(TIMES - 1, Math.floor(share * TIMES))]?.toFixed(1);
  console.log(`${what}: median ${of(0.5)} ms, 95 % within ${of(0.95)} ms`);
}

/** The rows of a log; `look` is called with every block, for a timer would starve while they are read. */
function* logRows(look: () => void): Generator<string> {
  yield 'time,celsius\n';
  const begin = Date.UTC(2024, 0, 1);
  let rows = '';
  for (let n = 0; n < READINGS; n += 1) {
    const isWarm = n % 100_000 > 99_900;
    rows += `${new Date(begin + n * 60_000).toISOString()},${isWarm ? -20 : -80 + (n % 7) / 10}\n`;
    if (n % 500 === 499) {
      look();
      yield rows;
      rows = '';
    }
  }
}

async function readLog(): Promise<void> {
  const atRest = process.memoryUsage().rss;
  let mostBytes = atRest;
  const look = () => {
    mostBytes = Math.max(mostBytes, process.memoryUsage().rss);
  };
  const begun = performance.now();
  const result = await readFreezerLog(Readable.from(logRows(look)), {
    columns: { time: 'time', temperature: 'celsius' },
    freezer: 'F-1',
    unit: 'C',
    thresholdsC: new Map([['F-1', -60]]),
    longestStepMinutes: 60,
  });
  const seconds = ((performance.now() - begun) / 1000).toFixed(1);
  const found = result.ok
    ? `${result.freezers[0]?.excursions.length} warm spells`
    : result.problems[0]?.message;
  console.log(
    `A log of ${READINGS.toLocaleString('en-GB')} readings: ${seconds} s, ${found}, at most ${Math.round(mostBytes / 1e6)} MB resident, of which ${Math.round(atRest / 1e6)} MB before it began`,
  );
}

async function main(): Promise<void> {
  await readLog();
  const collectionId = await makeCollection(db());
  const actor = await makeActor(db(), collectionId, 'curator');
  await fillStore(collectionId, actor.personId ?? '');
  const boxes = await db().storageUnit.findMany({ where: { collectionId, kind: 'box' }, take: TIMES + 1 });
  await time('A scan of a vial', (n) => findByCode(actor, `BENCH-${1 + n * 977}-T1`));
  await time('A vial typed in small letters', (n) => findByCode(actor, `bench-${1 + n * 911}-t1`));
  await time('A box map', (n) => showUnit(actor, boxes[n]?.id ?? ''));
  await time('The tree with its loads', () => showTree(actor));
  await closeDb();
}

void main();
