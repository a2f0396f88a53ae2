import { randomUUID } from 'node:crypto';
import { Client } from 'pg';
import { defaultSplit } from '@/lib/skeletons/rules/split';

/** What a bench works on; the database must be migrated and hold taxa and people. */
export type Filled = { collectionId: string; birds: number };

const VIALS_PER_BOX = 77;
const SKINS_PER_DRAWER = 100;
const LINES_PER_LOAN = 3;
const EVENTS_PER_BIRD = 20;

/**
 * Birds of sixty years in a collection of their own, set by set with the triggers asleep, and the rows that the search
 * reads in one statement. Four materials a bird: carcass, one or two vials, often a skin and bones. Some kinds, people
 * and places come far more often than others. The newest fifth, 8,000 at most, is at work in equal parts: found, queued,
 * on the bench, in review, these with the whole bone book of a usual split; the rest is catalogued, three bones of each
 * skeleton in the book. All but those just found are in their year's accession. Of fifty materials one loan of three skins, one loan in twenty is
 * out. Twenty events a bird in the history, without digests: the chain of this collection proves nothing.
 * @param birds 20 at least, so that there is one of each
 */
export async function fillCollection(databaseUrl: string, birds: number): Promise<Filled> {
  const client = new Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    return { collectionId: await fill(client, birds), birds };
  } finally {
    await client.end();
  }
}

async function fill(client: Client, birds: number): Promise<string> {
  const collectionId = randomUUID();
  await client.query('BEGIN');
  await client.query('SET LOCAL session_replication_role = replica; SET LOCAL synchronous_commit = off');
  await client.query('SELECT setseed(0.25)');
  // One value for the whole session, so that the statements below need no parameters and can be sent together.
  await client.query(`SELECT set_config('bench.collection', $1, true), set_config('bench.birds', $2, true)`, [
    collectionId,
    String(birds),
  ]);
  for (const statement of [...PLAN, ...BIRDS, ...MATERIALS, ...STORE, MOVES, ...LOANS, HISTORY]) {
    await client.query(statement);
  }
  await client.query('ANALYZE');
  await fillSearch(client);
  await client.query('COMMIT');
  await client.query('VACUUM (ANALYZE)');
  return collectionId;
}

/**
 * The body of the database's own function that keeps a bird's row, for all birds of the collection at once: no second
 * text says what such a row holds. Its indexes are built afterwards.
 */
async function fillSearch(client: Client): Promise<void> {
  const { rows } = await client.query<{ prosrc: string }>(
    `SELECT prosrc FROM pg_proc WHERE proname = 'catalogue_index_refresh'`,
  );
  const insert = /INSERT INTO "CatalogueIndex"[\s\S]*(?=WHERE b\.id = bird;)/.exec(
    rows[0]?.prosrc ?? '',
  )?.[0];
  if (insert === undefined) throw new Error('catalogue_index_refresh no longer reads as this bench expects.');
  const indexes = await client.query<{ indexname: string; indexdef: string }>(
    `SELECT indexname, indexdef FROM pg_indexes WHERE tablename = 'CatalogueIndex' AND indexdef NOT LIKE '%UNIQUE%'`,
  );
  for (const { indexname } of indexes.rows) await client.query(`DROP INDEX "${indexname}"`);
  await client.query(`${insert} WHERE b."collectionId" = ${HERE}`);
  for (const { indexdef } of indexes.rows) await client.query(indexdef);
}

const HERE = `current_setting('bench.collection')::uuid`;
const COUNT = `current_setting('bench.birds')::int`;

const REVIEWED_BOOK = defaultSplit('skin-with-partial-skeleton', { wing: 'right', leg: 'right' });

/** The collection, its permits (one a year) and what becomes of each bird. */
const PLAN = [
  `INSERT INTO "Collection" (id, code, name) VALUES (${HERE}, 'BENCH-' || left(${HERE}::text, 8), 'Bench')`,
  `INSERT INTO "Permit" (id, "collectionId", number, authority, kind, jurisdiction, holder, "effectiveOn", "expiresOn")
   SELECT uuidv7(), ${HERE}, 'BP-' || y, 'Bench authority', 'salvage', 'US', 'Bench holder', make_date(y, 1, 1), make_date(y, 12, 31)
   FROM generate_series(1966, 2025) y`,
  `CREATE TEMP TABLE made ON COMMIT DROP AS
   WITH taxa AS (SELECT array_agg(id ORDER BY "sortOrder", id) AS ids FROM "Taxon" WHERE "acceptedId" IS NULL AND rank = 'species'),
     people AS (SELECT array_agg(id ORDER BY id) AS ids FROM "Person"),
     dated AS (SELECT n, date '1966-01-01' + (n * 21914::bigint / (${COUNT} + 1))::int AS found FROM generate_series(1, ${COUNT}) n)
   SELECT n, found, uuidv7() AS salvage, uuidv7() AS bird, uuidv7() AS bench, p.id AS permit,
     taxa.ids[1 + floor(power(random(), 3) * cardinality(taxa.ids))::int] AS taxon,
     people.ids[1 + floor(power(random(), 2) * cardinality(people.ids))::int] AS person,
     (ARRAY['Franklin','Delaware','Licking','Union','Madison','Fairfield','Pickaway','Ross'])[1 + floor(power(random(), 2) * 8)::int] AS county,
     'Lane ' || floor(power(random(), 2) * 5000) || ' at the mill' AS locality,
     CASE WHEN n <= ${COUNT} - LEAST(${COUNT} / 5, 8000) THEN 'catalogued'
       ELSE (ARRAY['found', 'queued', 'bench', 'review'])[1 + n % 4] END AS stage
   FROM dated CROSS JOIN taxa CROSS JOIN people
   JOIN "Permit" p ON p."collectionId" = ${HERE} AND found BETWEEN p."effectiveOn" AND p."expiresOn"`,
];

const VALUES = `jsonb_build_object(
  'sex', jsonb_build_object('value', 'female', 'unit', NULL, 'method', NULL, 'verbatim', NULL, 'at', '2025-05-02T10:00:00.000Z', 'by', person),
  'leftOvary', jsonb_build_object('value', jsonb_build_object('lengthMm', 7, 'widthMm', 4), 'unit', NULL, 'method', NULL, 'verbatim', NULL, 'at', '2025-05-02T10:00:00.000Z', 'by', person),
  'wingMm', jsonb_build_object('value', 90 + n % 40, 'unit', 'mm', 'method', NULL, 'verbatim', NULL, 'at', '2025-05-02T10:00:00.000Z', 'by', person),
  'massG', jsonb_build_object('value', 60 + n % 30, 'unit', 'g', 'method', NULL, 'verbatim', NULL, 'at', '2025-05-02T10:00:00.000Z', 'by', person))`;

const BIRDS = [
  `INSERT INTO "Accession" (id, "collectionId", number, source, "receivedOn", "createdById")
   SELECT DISTINCT ON (p.id) uuidv7(), ${HERE}, replace(p.number, 'BP', 'BA'), 'Salvaged in the year', p."expiresOn", person
   FROM made JOIN "Permit" p ON p.id = permit WHERE stage <> 'found' ORDER BY p.id, n`,
  `INSERT INTO "SalvageRecord" (id, "collectionId", number, state, coverage, "permitId", "accessionId", "taxonId", "verbatimTaxon",
     "foundFrom", "foundTo", "receivedOn", country, "stateProvince", county, locality, circumstances, cause, "loggedById", "loggedAt")
   SELECT salvage, ${HERE}, 'BS-' || lpad(n::text, 7, '0'), CASE stage WHEN 'found' THEN 'in-triage' ELSE 'accepted' END, 'covered',
     permit, CASE WHEN stage <> 'found' THEN a.id END, taxon, 'as on the bag', found, found, found, 'US', 'Ohio', county, locality,
     'found dead below a window', 'window-strike', person, found + interval '18 hours'
   FROM made LEFT JOIN "Accession" a ON a."collectionId" = ${HERE} AND a.number = 'BA-' || extract(year FROM found)`,
  `INSERT INTO "Bird" (id, "collectionId", "salvageId", number, "taxonId", state, sex, "styleId", "frozenAt", "claimedById",
     "claimedAt", priority)
   SELECT bird, ${HERE}, salvage, 'BS-' || lpad(n::text, 7, '0'), taxon,
     CASE stage WHEN 'queued' THEN 'queued' WHEN 'bench' THEN 'on-the-bench' ELSE 'prepared' END,
     CASE WHEN stage IN ('catalogued', 'review') THEN (ARRAY['female', 'male', 'undetermined'])[1 + n % 3] ELSE 'undetermined' END,
     'skin-with-partial-skeleton', found + 1, CASE stage WHEN 'bench' THEN person END, CASE stage WHEN 'bench' THEN found + 20 END,
     CASE stage WHEN 'queued' THEN n * 7919::bigint % 1000 / 10.0 ELSE 0 END FROM made WHERE stage <> 'found'`,
  `INSERT INTO "BenchRecord" (id, "collectionId", "birdId", "prepNumber", state, "styleId", "preparatorId", "startedAt", "sentAt",
     "boneExplanation", values)
   SELECT bench, ${HERE}, bird, 'BX ' || n, CASE stage WHEN 'bench' THEN 'draft' WHEN 'review' THEN 'in-review' ELSE 'approved' END,
     'skin-with-partial-skeleton', person, found + 30, CASE stage WHEN 'bench' THEN NULL ELSE found + 40 END,
     'Only these bones were kept.', ${VALUES} FROM made WHERE stage NOT IN ('found', 'queued')`,
  `INSERT INTO "CatalogueEntry" (id, "collectionId", "birdId", number, "approvedById", "approvedAt", approved)
   SELECT uuidv7(), ${HERE}, bird, 'BC-' || lpad(n::text, 7, '0'), person, found + 60, '{}' FROM made WHERE stage = 'catalogued'`,
  `INSERT INTO "Determination" (id, "birdId", "taxonId", verbatim, "determinedBy", "determinedOn")
   SELECT uuidv7(), bird, taxon, 'as on the bag', 'A. Tester', found + 30 FROM made WHERE stage = 'catalogued'`,
];

const MATERIALS = [
  `INSERT INTO "Material" (id, "collectionId", "birdId", kind, suffix, state, custody)
   SELECT uuidv7(), ${HERE}, bird, kind, suffix, state, custody FROM made
   JOIN (VALUES ('carcass', 'C', NULL, 'used-up'), ('skin', 'S', 'shelved', 'on-shelf'), ('skeleton', 'K', 'shelved', 'on-shelf'),
     ('vial', 'T1', 'stored', 'on-shelf'), ('vial', 'T2', 'stored', 'on-shelf')) k(kind, suffix, state, custody) ON true
   WHERE stage IN ('catalogued', 'review') AND CASE suffix WHEN 'S' THEN n % 5 < 4 OR stage = 'review'
     WHEN 'K' THEN n % 5 < 3 OR stage = 'review' WHEN 'T2' THEN n % 20 < 13 ELSE true END
   UNION ALL
   SELECT uuidv7(), ${HERE}, bird, 'carcass', 'C', NULL, 'on-shelf' FROM made WHERE stage IN ('queued', 'bench')`,
  `INSERT INTO "Vial" ("materialId", code, "collectionId", tissues, preservation, container, amount, "amountLeft", "qualityClass",
     "qualityReason", "filledById")
   SELECT m.id, 'BV' || made.n || m.suffix, ${HERE}, ARRAY[(ARRAY['muscle', 'muscle', 'liver', 'heart'])[1 + made.n % 4]], 'frozen',
     'cryovial', 100, 100, 1 + made.n % 4, 'as filled', person
   FROM "Material" m JOIN made ON made.bird = m."birdId" WHERE m.kind = 'vial'`,
  `INSERT INTO "BoneEntry" ("birdId", element, side, place, "materialId")
   SELECT m."birdId", element, 'left', 'skeleton', m.id
   FROM "Material" m CROSS JOIN unnest(ARRAY['humerus', 'femur', 'tarsometatarsus']) element
   JOIN made ON made.bird = m."birdId" AND made.stage <> 'review'
   WHERE m."collectionId" = ${HERE} AND m.kind = 'skeleton'`,
  `INSERT INTO "BoneEntry" ("birdId", element, side, portion, state, place, "materialId")
   SELECT made.bird, b.element, b.side, b.portion, b.state, b.place, m.id
   FROM made CROSS JOIN jsonb_to_recordset('${JSON.stringify(REVIEWED_BOOK)}') AS b(element text, side text, portion text, state text, place text)
   LEFT JOIN "Material" m ON m."birdId" = made.bird AND m.kind = b.place WHERE made.stage = 'review'`,
];

/** A room of freezers with 40 boxes each, a room of cabinets with 20 drawers each; every box has four free places. */
const STORE = [
  `CREATE TEMP TABLE spot ON COMMIT DROP AS
   SELECT id, kind, (row_number() OVER (PARTITION BY kind ORDER BY id) - 1)::int AS at FROM "Material"
   WHERE "collectionId" = ${HERE} AND kind IN ('vial', 'skin', 'skeleton')`,
  `INSERT INTO "StorageUnit" (id, "collectionId", kind, name, code, path) VALUES
     (uuidv7(), ${HERE}, 'room', 'Cold room', 'COLD', 'Cold room'), (uuidv7(), ${HERE}, 'room', 'Bird range', 'RANGE', 'Bird range')`,
  `INSERT INTO "StorageUnit" (id, "collectionId", "parentId", kind, name, code, path, "targetTempC", "allowedPreservations")
   SELECT uuidv7(), ${HERE}, u.id, 'freezer', 'Freezer ' || f, 'F-' || f, u.path || ' › Freezer ' || f, -80, ARRAY['frozen']
   FROM "StorageUnit" u, generate_series(0, (SELECT count(*)::int FROM spot WHERE kind = 'vial') / (40 * ${VIALS_PER_BOX})) f
   WHERE u."collectionId" = ${HERE} AND u.code = 'COLD'`,
  `INSERT INTO "StorageUnit" (id, "collectionId", "parentId", kind, name, code, path, rows, columns, naming)
   SELECT uuidv7(), ${HERE}, u.id, 'box', 'Box ' || b, 'B-' || b, u.path || ' › Box ' || b, 9, 9, 'row-letter'
   FROM generate_series(0, (SELECT count(*)::int FROM spot WHERE kind = 'vial') / ${VIALS_PER_BOX}) b
   JOIN "StorageUnit" u ON u."collectionId" = ${HERE} AND u.code = 'F-' || b / 40`,
  `INSERT INTO "StorageUnit" (id, "collectionId", "parentId", kind, name, code, path)
   SELECT uuidv7(), ${HERE}, u.id, 'cabinet', 'Cabinet ' || c, 'C-' || c, u.path || ' › Cabinet ' || c
   FROM "StorageUnit" u, generate_series(0, (SELECT count(*)::int FROM spot WHERE kind <> 'vial') / (20 * ${SKINS_PER_DRAWER})) c
   WHERE u."collectionId" = ${HERE} AND u.code = 'RANGE'`,
  `INSERT INTO "StorageUnit" (id, "collectionId", "parentId", kind, name, code, path)
   SELECT uuidv7(), ${HERE}, u.id, 'drawer', 'Drawer ' || d, 'D-' || d, u.path || ' › Drawer ' || d
   FROM generate_series(0, (SELECT count(*)::int FROM spot WHERE kind <> 'vial') / ${SKINS_PER_DRAWER}) d
   JOIN "StorageUnit" u ON u."collectionId" = ${HERE} AND u.code = 'C-' || d / 20`,
  `INSERT INTO "Placement" ("materialId", "unitId", position)
   SELECT s.id, u.id, chr(65 + (s.at % ${VIALS_PER_BOX}) / 9) || ((s.at % ${VIALS_PER_BOX}) % 9 + 1)
   FROM spot s JOIN "StorageUnit" u ON u."collectionId" = ${HERE} AND u.code = 'B-' || s.at / ${VIALS_PER_BOX} WHERE s.kind = 'vial'`,
  `INSERT INTO "Placement" ("materialId", "unitId")
   SELECT s.id, u.id FROM (SELECT id, (row_number() OVER (ORDER BY id) - 1)::int AS at FROM spot WHERE kind <> 'vial') s
   JOIN "StorageUnit" u ON u."collectionId" = ${HERE} AND u.code = 'D-' || s.at / ${SKINS_PER_DRAWER}`,
];

/** Each material was put where it is once; the moves are what a box is asked for that lacks somebody. */
const MOVES = `INSERT INTO "MaterialMove" (id, "materialId", "toPath", "toUnitId", "toPosition", reason, "movedAt")
  SELECT uuidv7(), p."materialId", u.path, u.id, p.position, 'put away', '2025-01-15'
  FROM "Placement" p JOIN "StorageUnit" u ON u.id = p."unitId" WHERE u."collectionId" = ${HERE}`;

const LOANS = [
  `INSERT INTO "Borrower" (id, "collectionId", institution, contact, country)
   SELECT uuidv7(), ${HERE}, 'Bench university ' || b, 'A. Borrower', 'US' FROM generate_series(1, 200) b`,
  `CREATE TEMP TABLE lent ON COMMIT DROP AS
   WITH skins AS (SELECT s.id, (row_number() OVER (ORDER BY e.number DESC) - 1)::int / ${LINES_PER_LOAN} AS loan
     FROM spot s JOIN "Material" m ON m.id = s.id JOIN "CatalogueEntry" e ON e."birdId" = m."birdId" WHERE s.kind = 'skin'),
   loans AS (SELECT l, uuidv7() AS id, l <= ${COUNT} / 250 AS is_out FROM generate_series(0, ${COUNT} * 4 / 50) l)
   SELECT l, loans.id AS loan, is_out, skins.id AS material, p."unitId" AS shelf
   FROM loans JOIN skins ON skins.loan = l JOIN "Placement" p ON p."materialId" = skins.id`,
  `INSERT INTO "Loan" (id, "collectionId", number, state, "borrowerId", purpose, "askedOn", "dueOn", "decidedAt", "packedAt",
     "sentAt", "receivedAt", "closedAt")
   SELECT DISTINCT ON (l) loan, ${HERE}, 'BL-' || lpad(l::text, 6, '0'), CASE WHEN is_out THEN 'received' ELSE 'closed' END, b.id,
     'Measurements', date '2025-03-01', date '2099-03-01', '2025-03-02', '2025-03-03', '2025-03-04', '2025-03-10',
     CASE WHEN NOT is_out THEN timestamptz '2025-06-01' END
   FROM lent JOIN (SELECT id, row_number() OVER (ORDER BY id) - 1 AS at FROM "Borrower" WHERE "collectionId" = ${HERE}) b ON b.at = l % 200`,
  `INSERT INTO "LoanLine" (id, "loanId", "materialId", "shelfUnitId", "conditionOut", "sentAt", outcome, "outcomeAt", "conditionIn")
   SELECT uuidv7(), loan, material, shelf, 'Good', '2025-03-04', CASE WHEN NOT is_out THEN 'returned' END,
     CASE WHEN NOT is_out THEN timestamptz '2025-06-01' END, CASE WHEN NOT is_out THEN 'Good' END FROM lent`,
  `UPDATE "Material" m SET custody = 'on-loan' FROM lent WHERE lent.is_out AND lent.material = m.id`,
  `DELETE FROM "Placement" p USING lent WHERE lent.is_out AND lent.material = p."materialId"`,
];

const HISTORY = `WITH events AS (
    INSERT INTO "AuditEvent" (id, seq, "collectionId", at, "actorId", "actorName", "birdId", "subjectType", "subjectId", kind, payload)
    SELECT uuidv7(), (n - 1) * ${EVENTS_PER_BIRD}::bigint + k, ${HERE}, found + k * interval '2 days', person, 'A. Tester', bird,
      'bench-record', bench, 'bench.values-written', jsonb_build_object('changes', jsonb_build_object('Wing', jsonb_build_object('from', NULL, 'to', k || ' mm')))
    FROM made CROSS JOIN generate_series(1, ${EVENTS_PER_BIRD}) k RETURNING seq)
  INSERT INTO "AuditHead" ("collectionId", seq, digest) SELECT ${HERE}, max(seq), '' FROM events`;
