import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Client } from 'pg';
import { z } from 'zod';
import { dropStoredCopies, FILE_COPIES, putStoredCopy, readStoredCopy } from '@/lib/attachments/public';
import { PackageError, readPackage, sumTables } from '@/lib/exchange/public';
import { connectTo } from '../connect';
import { migrateDatabase } from '../migrate';
import { OperatorError } from '../operator-error';
import { type Finding, verifyInstallation } from '../verify';
import { checkBackup, type Manifest } from './manifest';
import { type BackedUpCopy, DATABASE_FILE, FILES_DIR, JOBS_FILE, readJobs } from './write';

const jobsSchema = z.array(
  z.object({
    task: z.string(),
    payload: z.unknown(),
    runAt: z.string(),
    priority: z.int(),
    maxAttempts: z.int(),
    key: z.string().nullable(),
    queue: z.string().nullable(),
  }),
);

/**
 * Restores a backup into an empty database and file store, whole or not at all, and then proves it: rows and digest of
 * every table, waiting work, audit chains against the ends kept in the manifest, signed reports, invariants, files.
 * @throws OperatorError in one sentence when the backup is damaged or the place is not empty; nothing is left there then.
 */
export async function restoreBackup(
  databaseUrl: string,
  folder: string,
): Promise<{ manifest: Manifest; findings: Finding[] }> {
  const source = path.resolve(folder);
  const manifest = await checkBackup(source);
  await migrateDatabase(databaseUrl);
  const client = await connectTo(databaseUrl);
  const put: BackedUpCopy[] = [];
  try {
    const copies = manifest.files.flatMap(({ path: name, sha256 }) => readCopyPath(name, sha256));
    await refuseStoredFiles(copies);
    await readPackage(client, path.join(source, DATABASE_FILE), async () => {
      await queueJobs(client, readFileSync(path.join(source, JOBS_FILE), 'utf8'));
      await refuseDifferences(client, manifest);
      for (const copy of copies) {
        put.push(copy);
        const bytes = readFileSync(path.join(source, FILES_DIR, copy.collectionId, copy.id, copy.copy));
        await putStoredCopy(copy, copy.copy, bytes);
      }
    });
  } catch (error) {
    for (const copy of put) await dropStoredCopies(copy);
    throw error instanceof PackageError ? new OperatorError(error.message) : error;
  } finally {
    await client.end();
  }
  return { manifest, findings: (await verifyInstallation(databaseUrl, manifest.heads)).findings };
}

function readCopyPath(name: string, sha256: string): BackedUpCopy[] {
  const [dir, collectionId = '', id = '', copy] = name.split('/');
  const known = FILE_COPIES.find((one) => one === copy);
  return dir === FILES_DIR && known !== undefined ? [{ collectionId, id, copy: known, sha256 }] : [];
}

async function refuseStoredFiles(copies: readonly BackedUpCopy[]): Promise<void> {
  for (const copy of copies) {
    if ((await readStoredCopy(copy, copy.copy)) !== null)
      throw new OperatorError(
        `The file store holds ${copy.id} already: a backup goes into an empty place. Set FURCULA_DATA (or FILES_S3_BUCKET) to a new one.`,
      );
  }
}

async function queueJobs(client: Client, text: string): Promise<void> {
  for (const job of jobsSchema.parse(JSON.parse(text))) {
    await client.query(
      `SELECT graphile_worker.add_job($1, $2::json, queue_name => $3, run_at => $4::timestamptz, max_attempts => $5,
         job_key => $6, priority => $7)`,
      [job.task, JSON.stringify(job.payload), job.queue, job.runAt, job.maxAttempts, job.key, job.priority],
    );
  }
}

/** Reads everything that was loaded again, before it is committed. */
async function refuseDifferences(client: Client, { tables, jobs }: Manifest): Promise<void> {
  const loaded = await sumTables(client);
  for (const [name, wanted] of Object.entries(tables)) {
    const found = loaded[name];
    if (found?.rows === wanted.rows && found.sha256 === wanted.sha256) continue;
    throw new OperatorError(
      `Table ${name} came back with ${found?.rows ?? 0} rows instead of ${wanted.rows}, or with other content. Nothing was restored.`,
    );
  }
  const waiting = (await readJobs(client)).length;
  if (waiting !== jobs)
    throw new OperatorError(
      `${waiting} pieces of background work wait instead of ${jobs}: a backup goes into an empty database. Nothing was restored.`,
    );
}
