import { createWriteStream, readFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { atOneSnapshot, readPackage, writePackage } from '@/lib/exchange/public';
import { makeApiToken } from '@/lib/exchange/service/tokens';
import { askInvariants } from '@/lib/ops/verify';
import { dayOf, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeBird, makeCollection } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';
import { makeBox, makeCatalogued } from '@/seed/factories/loans';
import { hasReference, readReference } from '@/tests/reference/reference-files';
import { unzipTexts } from '@/tests/unit/exchange/zip-files';

const source = process.env.DATABASE_URL ?? '';
const target = new URL(source);
target.pathname = `${target.pathname}_loaded`;
let folder: string;

async function run<T>(url: string, work: (client: Client) => Promise<T>): Promise<T> {
  const client = new Client({ connectionString: url });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

const fileOf = (name: string) => join(folder, `${name}.zip`);
const write = (url: string, name: string) =>
  run(url, (client) => atOneSnapshot(client, () => writePackage(client, createWriteStream(fileOf(name)))));
const makeTarget = () =>
  run(inject('adminUrl'), async (admin) => {
    await admin.query(`DROP DATABASE IF EXISTS "${target.pathname.slice(1)}" WITH (FORCE)`);
    await admin.query(`CREATE DATABASE "${target.pathname.slice(1)}" TEMPLATE "${inject('templateName')}"`);
  });

/** Rows of many kinds, texts made to be difficult, a file in pieces, and events of the audit trail. */
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'package-'));
  const collectionId = await makeCollection(db());
  const administrator = await makeActor(db(), collectionId, 'administrator');
  const curator = await makeActor(db(), collectionId, 'curator');
  const preparator = await makeActor(db(), collectionId, 'preparator');
  const box = await makeBox(db(), collectionId);
  await makeCatalogued(db(), curator, box, { vials: 2 });
  await makeInReview(db(), preparator);
  for (let index = 0; index < 30; index += 1) await makeBird(db(), collectionId);
  await makeApiToken(contextOf(administrator), {
    name: 'Copy',
    personId: curator.personId ?? '',
    scopes: ['catalogue.see'],
    expiresOn: dayOf(new Date(now().getTime() + 30 * 86_400_000)),
  });
  await db().handedInFile.create({
    data: {
      collectionId,
      fileName: 'sheet.csv',
      pieces: { create: { number: 0, bytes: Buffer.from(Array.from({ length: 256 }, (_, byte) => byte)) } },
    },
  });
  await run(source, (client) =>
    client.query(
      `INSERT INTO "Place" (id, "collectionId", name, country, "stateProvince", county, remarks, "verbatimCoordinates")
       SELECT gen_random_uuid(), id, E'a,"b"\r\n c\t♂', '', 'N', 'null', '', NULL FROM "Collection"`,
    ),
  );
  await makeTarget();
});

afterAll(() => rm(folder, { recursive: true, force: true }));

describe('the whole installation as a data package', () => {
  it('exported, loaded into an empty one, exported again: the same bytes', async () => {
    await write(source, 'first');
    const counts = await run(target.href, (client) => readPackage(client, fileOf('first')));
    expect(counts).toMatchObject({ Bird: 32, HandedInPiece: 1, Place: 1, Vial: 2 });
    expect(counts.AuditEvent).toBeGreaterThan(0);
    await write(target.href, 'second');
    const [first, second] = [readFileSync(fileOf('first')), readFileSync(fileOf('second'))];
    expect(second.equals(first)).toBe(true);
  });

  it('the loaded installation is whole: invariants, keys and triggers', async () => {
    const { rows } = await run(target.href, (client) =>
      client.query<{ off: number; keys: number }>(
        `SELECT (SELECT count(*)::int FROM pg_trigger WHERE NOT tgisinternal AND tgenabled = 'D') AS off,
           (SELECT count(*)::int FROM pg_constraint WHERE contype = 'f' AND convalidated) AS keys`,
      ),
    );
    const keys = await run(source, (client) =>
      client.query(`SELECT FROM pg_constraint WHERE contype = 'f' AND convalidated`),
    );
    expect(rows).toEqual([{ off: 0, keys: keys.rowCount }]);
    // The makers of test rows pass some commands over, so the answers are compared, not counted.
    expect(await askInvariants(target.href)).toEqual(await askInvariants(source));
  });

  it('the audit trail goes on where it was left', async () => {
    const { rows } = await run(target.href, (client) =>
      client.query<{ digest: string; previousDigest: string }>(
        `INSERT INTO "AuditEvent" (id, "collectionId", "actorName", "subjectType", "subjectId", kind, payload)
         SELECT gen_random_uuid(), "collectionId", 'Test', 'collection', "collectionId", 'exchange.exported', '{}'
         FROM "AuditHead" RETURNING "previousDigest", digest`,
      ),
    );
    const last = await db().auditEvent.findFirst({ orderBy: { seq: 'desc' } });
    expect(rows).toHaveLength(1);
    expect(rows[0]?.previousDigest).toBe(last?.digest);
    expect(rows[0]?.digest).not.toBe(last?.digest);
  });

  it('is refused where somebody already is, and where the migration differs; nothing changes there', async () => {
    await expect(run(target.href, (client) => readPackage(client, fileOf('first')))).rejects.toThrow('empty');
    await makeTarget();
    await run(target.href, async (client) => {
      await client.query(
        `INSERT INTO _prisma_migrations (id, checksum, migration_name, finished_at) VALUES ('later', '', '29990101000000_later', now())`,
      );
      await expect(readPackage(client, fileOf('first'))).rejects.toThrow('29990101000000_later');
      expect((await client.query('SELECT FROM "Person"')).rowCount).toBe(0);
    });
  });

  // Source: Frictionless Data Package v1, its JSON schema.
  it.skipIf(!hasReference('standards', 'darwin-core-data-package', 'frictionless-data-package.json'))(
    'its descriptor is valid by the published schema (skipped without it)',
    async () => {
      const files = await unzipTexts(readFileSync(fileOf('first')));
      const ajv = new Ajv({ strict: false, allErrors: true });
      addFormats(ajv);
      const { $schema: _, ...schema } = JSON.parse(
        readReference('standards', 'darwin-core-data-package', 'frictionless-data-package.json'),
      );
      const validate = ajv.compile(schema);
      const descriptor = JSON.parse(files.get('datapackage.json') ?? '');
      validate(descriptor);
      expect(validate.errors).toBeNull();
      expect(validate({ ...descriptor, resources: [] })).toBe(false);
      const paths = descriptor.resources.map(({ path }: { path: string }) => path);
      expect([...files.keys()].sort()).toEqual(['datapackage.json', ...paths].sort());
    },
  );
});
