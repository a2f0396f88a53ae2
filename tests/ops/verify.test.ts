import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { Client } from 'pg';
import { beforeAll, describe, expect, it } from 'vitest';
import { db } from '@/lib/platform/db';
import { makeCollection } from '@/seed/factories';
import { runProgram, withScratchDir } from './programs';

const databaseUrl = process.env.DATABASE_URL ?? '';
const verify = (dir: string, ...args: string[]) =>
  runProgram('verify-command.ts', { DATABASE_URL: databaseUrl, FURCULA_DATA: dir }, args);

async function asSuperuser(...statements: string[]): Promise<void> {
  const client = new Client({ connectionString: databaseUrl });
  await client.connect();
  await client.query('SET session_replication_role = replica');
  for (const statement of statements) await client.query(statement);
  await client.end();
}

let collectionId: string;
beforeAll(async () => {
  collectionId = await makeCollection(db());
  await db().$executeRawUnsafe(
    `INSERT INTO "AuditEvent" (id, "collectionId", "actorName", "subjectType", "subjectId", kind, payload)
     SELECT gen_random_uuid(), '${collectionId}', 'Test', 'bird', gen_random_uuid(), 'salvage.logged', '{}'
     FROM generate_series(1, 6)`,
  );
});

describe('npm run verify', () => {
  it('anchors what is whole, and finds by the anchor a tail that was cut together with its head', () =>
    withScratchDir(async (dir) => {
      const file = path.join(dir, 'anchors');
      const whole = await verify(dir, '--anchor', file);
      expect(whole).toMatchObject({ code: 0, stderr: '' });
      expect(whole.stdout).toContain('6 events, whole');
      expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject({ collectionId, seq: 6 });

      await asSuperuser(
        `DELETE FROM "AuditEvent" WHERE "collectionId" = '${collectionId}' AND seq > 4`,
        `UPDATE "AuditHead" SET seq = 4, digest = (SELECT digest FROM "AuditEvent"
           WHERE "collectionId" = '${collectionId}' AND seq = 4) WHERE "collectionId" = '${collectionId}'`,
      );
      expect((await verify(dir)).code, 'the chain alone does not tell').toBe(0);
      const cut = await verify(dir, '--against', file, '--anchor', path.join(dir, 'second'));
      expect(cut.code).toBe(1);
      expect(cut.stdout).toContain('BROKEN at 5: the chain ends at 4 but the anchor of');
      expect(cut.stderr).toContain('No anchor was written');
      expect(() => readFileSync(path.join(dir, 'second'))).toThrow();
    }));

  it('refuses in one sentence: a file that is missing, one that is no anchor file, an option nobody knows', () =>
    withScratchDir(async (dir) => {
      const odd = path.join(dir, 'odd');
      writeFileSync(odd, '{"collectionId": "x"}\n');
      for (const [args, said] of [
        [['--against', path.join(dir, 'missing')], 'no such file'],
        [['--against', odd], `Line 1 of ${odd} is not an anchor`],
        [['--agains', odd], '--agains'],
      ] as const) {
        const outcome = await verify(dir, ...args);
        expect(outcome.code).toBe(1);
        expect(outcome.stderr).toContain(said);
        expect(outcome.stderr.trim().split('\n')).toHaveLength(1);
      }
    }));
});
