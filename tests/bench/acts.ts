import { randomUUID } from 'node:crypto';
import type { Pool } from 'pg';
import { listHistory } from '@/lib/audit/service';
import { writeEntries } from '@/lib/bench/service/entries';
import { writeRequest } from '@/lib/bench/wire-acts';
import { showSheet } from '@/lib/catalogue/service/record';
import { approveRecord, listReview } from '@/lib/catalogue/service/review';
import { findQuickly, searchCatalogue } from '@/lib/catalogue/service/search';
import { showBird } from '@/lib/desk/bird';
import { showDesk } from '@/lib/desk/piles';
import { countWaitingFor } from '@/lib/desk/service';
import { settleLoan } from '@/lib/loans/service/settle';
import type { Actor } from '@/lib/platform/actor';
import type { Role } from '@/lib/platform/permissions';
import { takeBird } from '@/lib/queue/claims';
import { listQueue } from '@/lib/queue/service';
import { queueListQuery } from '@/lib/queue/wire';
import { listLines, showReport } from '@/lib/reports/service/record';
import { reportFindRequest } from '@/lib/salvage/schema';
import { reportFind } from '@/lib/salvage/service/report';
import { moveMaterials } from '@/lib/storage/service/moves';
import { showUnit } from '@/lib/storage/service/tree';
import { contextOf } from '@/seed/factories';

/** Who acts: one person who may do all that is measured. */
export const ROLES_OF_BENCH: readonly Role[] = [
  'preparator',
  'curator',
  'registrar',
  'permit-officer',
  'administrator',
];

/** One thing that people do all day, over HTTP and as a call of the service; `at` chooses the record. */
export type Act = {
  name: string;
  kind: 'read' | 'write';
  /** Rows are found by their keys: no table may be read whole. */
  isKeyed: boolean;
  /** How many times it can be done: a write changes its record, so each record serves once. */
  times: number;
  request(at: number): { method: 'GET' | 'POST'; path: string; body?: unknown };
  call(actor: Actor, at: number): Promise<unknown>;
};

type Row = Record<string, string>;

/** The records that the acts work on, chosen all over the collection. */
async function chooseTargets(pool: Pool, collectionId: string) {
  const ask = async (text: string): Promise<Row[]> => (await pool.query<Row>(text, [collectionId])).rows;
  const [catalogued, boxes, queued, drafts, reviewed, vials, lent, reports] = await Promise.all([
    ask(
      `SELECT "birdId" AS id, number FROM "CatalogueEntry" WHERE "collectionId" = $1 ORDER BY md5(number) LIMIT 500`,
    ),
    ask(
      `SELECT id FROM "StorageUnit" WHERE "collectionId" = $1 AND kind = 'box' ORDER BY md5(code) LIMIT 500`,
    ),
    ask(`SELECT id FROM "Bird" WHERE "collectionId" = $1 AND state = 'queued' ORDER BY md5(number)`),
    ask(
      `SELECT id FROM "BenchRecord" WHERE "collectionId" = $1 AND state = 'draft' ORDER BY md5("prepNumber")`,
    ),
    ask(
      `SELECT id, version::text FROM "BenchRecord" WHERE "collectionId" = $1 AND state = 'in-review' ORDER BY md5("prepNumber")`,
    ),
    // The last four places of each box are free: a vial goes into its own box's.
    ask(
      `SELECT DISTINCT ON (p."unitId") p."materialId" AS id, p."unitId" AS box FROM "Placement" p
       JOIN "StorageUnit" u ON u.id = p."unitId" WHERE u."collectionId" = $1 AND u.kind = 'box' ORDER BY p."unitId", p.position`,
    ),
    ask(
      `SELECT DISTINCT ON (l.id) l.id, l.version::text, line.id AS line FROM "Loan" l JOIN "LoanLine" line ON line."loanId" = l.id
       WHERE l."collectionId" = $1 AND l.state = 'received' ORDER BY l.id, line.id`,
    ),
    ask(`SELECT id FROM "PermitReport" WHERE "collectionId" = $1`),
  ]);
  return { catalogued, boxes, queued, drafts, reviewed, vials, lent, reports };
}

const of = (rows: readonly Row[], at: number): Row => {
  const row = rows[at % rows.length];
  if (row === undefined)
    throw new Error('The collection has no record for this act: fill it with more birds.');
  return row;
};
const id = (rows: readonly Row[], at: number): string => of(rows, at).id ?? '';

/** An open report on the year 2024, as the page of reports makes it. */
export async function openYear(pool: Pool, collectionId: string, personId: string): Promise<void> {
  await pool.query(
    `INSERT INTO "PermitReport" (id, "collectionId", "permitId", "fromOn", "toOn", "createdById")
     SELECT uuidv7(), "collectionId", id, "effectiveOn", "expiresOn", $2 FROM "Permit"
     WHERE "collectionId" = $1 AND number = 'BP-2024'`,
    [collectionId, personId],
  );
}

const MISSPELLED = ['Turdus migratorus', 'Zonotrichia albicolis', 'Melospiza melodja', 'Catharus ustulattus'];

/** The main reads and writes, in the order of a bird's life. */
export async function listActs(pool: Pool, collectionId: string): Promise<Act[]> {
  const targets = await chooseTargets(pool, collectionId);
  const { catalogued, boxes, queued, drafts, reviewed, vials, lent, reports } = targets;
  const read = (name: string, path: (at: number) => string, call: Act['call'], isKeyed = true): Act => ({
    name,
    kind: 'read',
    isKeyed,
    times: Number.POSITIVE_INFINITY,
    request: (at) => ({ method: 'GET', path: path(at) }),
    call,
  });
  const write = <B>(
    name: string,
    times: number,
    path: (at: number) => string,
    body: (at: number) => B,
    call: (actor: Actor, at: number, body: B) => Promise<unknown>,
  ): Act => ({
    name,
    kind: 'write',
    isKeyed: true,
    times,
    request: (at) => ({ method: 'POST', path: path(at), body: body(at) }),
    call: (actor, at) => call(actor, at, body(at)),
  });
  const number = (at: number) => of(catalogued, at).number ?? '';
  const search = (actor: Actor, q: string) => searchCatalogue(actor, { q, size: 50, sort: '-number' });
  const searchPath = (q: string) => `/api/catalogue?size=50&sort=-number&q=${encodeURIComponent(q)}`;
  const misspelled = (at: number) => MISSPELLED[at % MISSPELLED.length] ?? '';
  return [
    read(
      'queue',
      () => '/api/queue',
      (actor) => listQueue(actor, queueListQuery.parse({})),
    ),
    read(
      'search by number',
      (at) => searchPath(number(at)),
      (actor, at) => search(actor, number(at)),
    ),
    read(
      'number in the head’s box',
      (at) => `/api/catalogue/find?q=${number(at)}`,
      (actor, at) => findQuickly(actor, number(at)),
    ),
    read(
      'search by misspelled name with facets',
      (at) => searchPath(misspelled(at)),
      (actor, at) => search(actor, misspelled(at)),
      false,
    ),
    read(
      'search by kind with sex and months',
      () => searchPath('taxon:Turdus sex:female month:3-5'),
      (actor) => search(actor, 'taxon:Turdus sex:female month:3-5'),
      false,
    ),
    read(
      'catalogue sheet',
      (at) => `/api/catalogue/${id(catalogued, at)}`,
      (actor, at) => showSheet(actor, id(catalogued, at)),
    ),
    read(
      'bird with its life',
      (at) => `/api/desk/birds/${id(catalogued, at)}`,
      (actor, at) => showBird(actor, id(catalogued, at)),
    ),
    read(
      'box map',
      (at) => `/api/storage/${id(boxes, at)}`,
      (actor, at) => showUnit(actor, id(boxes, at)),
    ),
    read(
      'review desk',
      () => '/api/catalogue/review',
      (actor) => listReview(actor, { size: 50 }),
    ),
    read(
      'history of a bird',
      (at) => `/api/history?birdId=${id(catalogued, at)}`,
      (actor, at) => listHistory(actor, { birdId: id(catalogued, at), size: 50 }),
    ),
    read(
      'history of the collection',
      () => '/api/history',
      (actor) => listHistory(actor, { size: 50 }),
    ),
    // The book of a whole permit: PostgreSQL may well read a table from end to end for it.
    read(
      'report',
      (at) => `/api/reports/${id(reports, at)}`,
      (actor, at) => showReport(actor, id(reports, at)),
      false,
    ),
    read(
      'report’s lines',
      (at) => `/api/reports/${id(reports, at)}/lines`,
      (actor, at) => listLines(actor, id(reports, at), { size: 50 }),
      false,
    ),
    read(
      'desk',
      () => '/api/desk/piles',
      (actor) => showDesk(actor),
      false,
    ),
    read(
      'counts of what waits',
      () => '/api/desk/waiting',
      (actor) => countWaitingFor(actor),
      false,
    ),
    write(
      'salvage',
      Number.POSITIVE_INFINITY,
      () => '/api/salvage',
      salvageBody,
      (actor, _, body) => reportFind(contextOf(actor), reportFindRequest.parse(body)),
    ),
    write(
      'claim',
      queued.length,
      (at) => `/api/queue/${id(queued, at)}/take`,
      () => ({}),
      (actor, at, body) => takeBird(contextOf(actor), id(queued, at), body),
    ),
    write(
      'bench autosave',
      drafts.length * 1000,
      (at) => `/api/bench/${id(drafts, at)}/entries`,
      (at) => ({
        entries: [{ field: 'wingMm' as const, value: 90 + (at % 300) / 10, clientKey: randomUUID() }],
      }),
      (actor, at, body) => writeEntries(contextOf(actor), id(drafts, at), writeRequest.parse(body)),
    ),
    write(
      'approve',
      reviewed.length,
      (at) => `/api/catalogue/review/${id(reviewed, at)}/approve`,
      (at) => ({ version: Number(of(reviewed, at).version), explanations: {} }),
      (actor, at, body) => approveRecord(contextOf(actor), id(reviewed, at), body),
    ),
    write(
      'move',
      vials.length,
      () => '/api/storage/moves',
      (at) => ({
        moves: [{ materialId: id(vials, at), to: { unitId: of(vials, at).box ?? '', position: 'I9' } }],
      }),
      (actor, _, body) => moveMaterials(contextOf(actor), body),
    ),
    write(
      'loan return',
      lent.length,
      (at) => `/api/loans/${id(lent, at)}/settle`,
      (at) => ({
        version: Number(of(lent, at).version),
        lines: [
          {
            lineId: of(lent, at).line ?? '',
            outcome: 'returned' as const,
            on: '2025-06-01',
            backTo: 'where-it-lay' as const,
          },
        ],
      }),
      (actor, at, body) => settleLoan(contextOf(actor), id(lent, at), body),
    ),
  ];
}

const salvageBody = () => ({
  requestKey: randomUUID(),
  found: { earliestOn: '2025-05-01', latestOn: '2025-05-01', verbatim: '1 May 2025' },
  receivedOn: '2025-05-02',
  place: { country: 'US', stateProvince: 'OH', county: 'Franklin', locality: `Window ${randomUUID()}` },
  verbatimTaxon: 'robin',
  circumstances: 'below a window',
  cause: 'window-strike',
  condition: 'fresh',
});
