import { randomUUID } from 'node:crypto';
import { Client } from 'pg';

/** Materials a bird: a skin, a skeleton and a vial. */
const PER_BIRD = 3;
const BATCH = 2000;

/**
 * Fills a migrated database that has a checklist with catalogued birds and their materials, set by set, with the
 * triggers asleep; then the rows that the search reads are made by the database's own function.
 * @returns the collection's id
 */
export async function fillCollection(databaseUrl: string, materials: number): Promise<string> {
  const client = new Client({ connectionString: databaseUrl });
  await client.connect();
  const collectionId = randomUUID();
  const birds = Math.ceil(materials / PER_BIRD);
  await client.query(`SET session_replication_role = replica; SET synchronous_commit = off`);
  await client.query(
    `INSERT INTO "Collection" (id, code, name) VALUES ($1::uuid, 'BENCH-' || left($1::uuid::text, 8), 'Bench')`,
    [collectionId],
  );
  await client.query(
    `CREATE TEMP TABLE made AS
     WITH taxa AS (SELECT array_agg(id ORDER BY "sortOrder", id) AS ids FROM "Taxon" WHERE "acceptedId" IS NULL),
       people AS (SELECT array_agg(id ORDER BY id) AS ids FROM "Person")
     SELECT n, gen_random_uuid() AS salvage, gen_random_uuid() AS bird, gen_random_uuid() AS bench,
       gen_random_uuid() AS skin, gen_random_uuid() AS skeleton, gen_random_uuid() AS vial,
       -- Some kinds are found far more often than others.
       taxa.ids[1 + floor(power(random(), 2) * cardinality(taxa.ids))::int] AS taxon,
       people.ids[1 + n % cardinality(people.ids)] AS preparator,
       date '1950-01-01' + (n * 27000::bigint / $1::int)::int AS found
     FROM generate_series(1, $1::int) n, taxa, people`,
    [birds],
  );
  await client.query(
    `INSERT INTO "SalvageRecord" (id, "collectionId", number, state, "taxonId", "verbatimTaxon", "foundFrom", "foundTo",
       "receivedOn", country, "stateProvince", county, locality, circumstances, cause, "loggedById")
     SELECT salvage, $1::uuid, 'S-' || lpad(n::text, 7, '0'), 'accepted', taxon, 'as on the bag', found, found, found, 'US', 'Ohio',
       (ARRAY['Franklin','Delaware','Licking','Union','Madison','Fairfield','Pickaway','Ross'])[1 + n % 8],
       'Lane ' || n % 5000 || ' at the mill', 'found dead below a window', 'window-strike', preparator FROM made`,
    [collectionId],
  );
  await client.query(
    `INSERT INTO "Bird" (id, "collectionId", "salvageId", number, "taxonId", state, sex, "styleId")
     SELECT bird, $1::uuid, salvage, 'S-' || lpad(n::text, 7, '0'), taxon, 'prepared',
       (ARRAY['female','male','undetermined'])[1 + n % 3], 'skin-with-partial-skeleton' FROM made`,
    [collectionId],
  );
  await client.query(
    `INSERT INTO "BenchRecord" (id, "collectionId", "birdId", "prepNumber", state, "styleId", "preparatorId", "startedAt")
     SELECT bench, $1::uuid, bird, 'P-' || n, 'approved', 'skin-with-partial-skeleton', preparator, found + 30 FROM made`,
    [collectionId],
  );
  await client.query(
    `INSERT INTO "CatalogueEntry" (id, "collectionId", "birdId", number, "approvedById", "approvedAt", approved)
     SELECT gen_random_uuid(), $1::uuid, bird, 'B-' || lpad(n::text, 7, '0'), preparator, found + 60, '{}' FROM made`,
    [collectionId],
  );
  await client.query(
    `INSERT INTO "Material" (id, "collectionId", "birdId", kind, suffix, state)
     SELECT skin, $1::uuid, bird, 'skin', 'S', 'shelved' FROM made
     UNION ALL SELECT skeleton, $1::uuid, bird, 'skeleton', 'K', 'shelved' FROM made
     UNION ALL SELECT vial, $1::uuid, bird, 'vial', 'T1', 'stored' FROM made`,
    [collectionId],
  );
  await client.query(
    `INSERT INTO "Vial" ("materialId", code, "collectionId", tissues, preservation, container, "qualityClass",
       "qualityReason", "filledById")
     SELECT vial, 'V' || n, $1::uuid, ARRAY['muscle'], 'frozen', 'cryovial', 1 + n % 4, '', preparator FROM made`,
    [collectionId],
  );
  await client.query('ANALYZE');
  for (let first = 1; first <= birds; first += BATCH) {
    await client.query('SELECT catalogue_index_refresh(bird) FROM made WHERE n BETWEEN $1 AND $2', [
      first,
      first + BATCH - 1,
    ]);
  }
  await client.query('VACUUM (ANALYZE) "CatalogueIndex"');
  await client.end();
  return collectionId;
}
