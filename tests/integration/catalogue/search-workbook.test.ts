import { readSheet } from 'read-excel-file/node';
import { expect, it } from 'vitest';
import { WORKBOOK_ROWS } from '@/lib/catalogue/search-wire';
import { exportSearch } from '@/lib/catalogue/service/export';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';

it('a workbook of more birds than it holds is refused and not written down; a CSV has them all', async () => {
  const own = await makeCollection(db());
  const actor = await makeActor(db(), own, 'curator');
  const { id } = await makeBird(db(), own, {
    taxonId: await makeTaxon(db(), { scientificName: 'Turdus pilaris' }),
  });
  await db().$transaction(
    async (tx) => {
      // Rows of the search alone, without the ten thousand birds behind them.
      await tx.$executeRawUnsafe('SET LOCAL session_replication_role = replica');
      await tx.$executeRaw`INSERT INTO "CatalogueIndex" SELECT (jsonb_populate_record(i,
        jsonb_build_object('birdId', gen_random_uuid(), 'number', 'N-' || lpad(n::text, 6, '0'),
          'numbers', '', 'words', '', 'locality', '', 'warnings', ''))).*
      FROM "CatalogueIndex" i, generate_series(1, ${WORKBOOK_ROWS}::int) n WHERE i."birdId" = ${id}::uuid`;
    },
    { timeout: 60_000 },
  );
  const ask = { q: '', sort: 'number', columns: ['number' as const] };
  await expect(exportSearch(contextOf(actor), { ...ask, form: 'xlsx' })).rejects.toMatchObject({
    code: 'not-valid',
    message: expect.stringContaining('10,000'),
  });
  expect(await db().auditEvent.count({ where: { collectionId: own, kind: 'catalogue.exported' } })).toBe(0);
  const { body } = await exportSearch(contextOf(actor), { ...ask, form: 'csv' });
  const lines = (await new Response(body as ReadableStream).text()).trim().split('\r\n');
  expect(new Set(lines).size).toBe(WORKBOOK_ROWS + 2);
  await db()
    .$executeRaw`DELETE FROM "CatalogueIndex" WHERE "collectionId" = ${own}::uuid AND "birdId" <> ${id}::uuid`;
  const book = await exportSearch(contextOf(actor), { ...ask, form: 'xlsx' });
  expect(await readSheet(Buffer.from(book.body as Uint8Array))).toHaveLength(2);
}, 120_000);
