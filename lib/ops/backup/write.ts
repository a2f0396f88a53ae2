import {
  createWriteStream,
  existsSync,
  mkdirSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import type { Client } from 'pg';
import { type FileCopy, readStoredCopy } from '@/lib/attachments/public';
import { atOneSnapshot, findMigration, writePackage } from '@/lib/exchange/public';
import { SECRET_SETTINGS, settings } from '@/lib/platform/env';
import { connectTo } from '../connect';
import { OperatorError } from '../operator-error';
import { digestFile, type Manifest, writeManifest } from './manifest';

export const DATABASE_FILE = 'database.zip';
export const JOBS_FILE = 'jobs.json';
export const SETTINGS_FILE = 'settings.json';
export const FILES_DIR = 'files';

/** A stored copy of a photo or document, with the digest of the day it came. */
export type BackedUpCopy = { collectionId: string; id: string; copy: FileCopy; sha256: string };
type ListedCopy = BackedUpCopy & { removed: boolean };

/**
 * Backs up the database, waiting background work and all stored files of one instant into a new folder, which appears
 * under its name only when it is whole. Holds everything an installation holds but its secrets.
 * @throws OperatorError when the folder is there already.
 */
export async function makeBackup(databaseUrl: string, folder: string): Promise<Manifest> {
  const target = path.resolve(folder);
  if (existsSync(target))
    throw new OperatorError(
      `${target} is there already: a backup goes into a new folder. Nothing was written.`,
    );
  const unfinished = `${target}.unfinished`;
  const client = await connectTo(databaseUrl);
  try {
    rmSync(unfinished, { recursive: true, force: true });
    mkdirSync(unfinished, { recursive: true, mode: 0o700 });
    const found = await atOneSnapshot(client, () => keepDatabase(client, unfinished));
    const damaged = await keepFiles(found.copies, unfinished);
    writeFileSync(path.join(unfinished, SETTINGS_FILE), describeSettings(), { mode: 0o600 });
    const names = [DATABASE_FILE, JOBS_FILE, SETTINGS_FILE, ...found.copies.map(pathOfCopy)];
    const files: Manifest['files'] = [];
    for (const name of names) {
      const file = path.join(unfinished, name);
      if (!existsSync(file)) continue;
      files.push({ path: name, bytes: statSync(file).size, sha256: await digestFile(file) });
    }
    const manifest: Manifest = {
      format: 'furcula-backup',
      edition: 1,
      madeAt: new Date().toISOString(),
      ...found.facts,
      files,
      damaged,
    };
    writeManifest(unfinished, manifest);
    renameSync(unfinished, target);
    return manifest;
  } catch (error) {
    rmSync(unfinished, { recursive: true, force: true });
    throw error;
  } finally {
    await client.end();
  }
}

async function keepDatabase(client: Client, folder: string) {
  const out = createWriteStream(path.join(folder, DATABASE_FILE), { flags: 'wx', mode: 0o600 });
  const tables = await writePackage(client, out);
  const jobs = await readJobs(client);
  writeFileSync(path.join(folder, JOBS_FILE), `${JSON.stringify(jobs, null, 1)}\n`, { mode: 0o600 });
  const { rows: heads } = await client.query<{ collectionId: string; seq: number; digest: string }>(
    `SELECT "collectionId"::text, seq::int, digest FROM "AuditHead" ORDER BY 1`,
  );
  return {
    facts: {
      migration: await findMigration(client),
      tables,
      jobs: jobs.length,
      heads: heads.map((head) => ({ ...head, source: 'the backup' })),
    },
    copies: await listCopies(client),
  };
}

/** Work that a command put into the queue and nobody has done yet belongs to the data; failed for good, it stays behind. */
export async function readJobs(client: Client): Promise<Record<string, unknown>[]> {
  const { rows } = await client.query(
    `SELECT t.identifier AS task, j.payload, j.run_at AS "runAt", j.priority, j.max_attempts AS "maxAttempts", j.key,
       q.queue_name AS queue
     FROM graphile_worker._private_jobs j JOIN graphile_worker._private_tasks t ON t.id = j.task_id
     LEFT JOIN graphile_worker._private_job_queues q ON q.id = j.job_queue_id
     WHERE j.attempts < j.max_attempts ORDER BY j.id`,
  );
  return rows;
}

/** Those of removed records too, as long as their bytes are there. */
async function listCopies(client: Client): Promise<ListedCopy[]> {
  const { rows } = await client.query<ListedCopy>(
    `SELECT a."collectionId"::text, a.id::text, c.copy, c.sha256, a."removedAt" IS NOT NULL AS removed FROM "Attachment" a,
       LATERAL (VALUES ('original', a.sha256), ('public', a."publicSha256"), ('thumb', a."thumbSha256")) c(copy, sha256)
     WHERE c.sha256 IS NOT NULL ORDER BY a.id, c.copy`,
  );
  return rows;
}

export const pathOfCopy = ({ collectionId, id, copy }: BackedUpCopy): string =>
  `${FILES_DIR}/${collectionId}/${id}/${copy}`;

/** Copies stored files into the folder; returns those that were missing. One at a time: memory holds one file. */
async function keepFiles(copies: readonly ListedCopy[], folder: string): Promise<string[]> {
  const damaged: string[] = [];
  for (const copy of copies) {
    const bytes = await readStoredCopy(copy, copy.copy);
    if (bytes === null) {
      if (!copy.removed) damaged.push(pathOfCopy(copy));
      continue;
    }
    const file = path.join(folder, pathOfCopy(copy));
    mkdirSync(path.dirname(file), { recursive: true, mode: 0o700 });
    writeFileSync(file, bytes, { mode: 0o600 });
    if ((await digestFile(file)) !== copy.sha256) damaged.push(pathOfCopy(copy));
  }
  return damaged;
}

/** The settings as they were, without those that are secret: to set up the next machine by. */
function describeSettings(): string {
  const secret: readonly string[] = SECRET_SETTINGS;
  const plain = Object.fromEntries(Object.entries(settings()).filter(([name]) => !secret.includes(name)));
  return `${JSON.stringify({ settings: plain, leftOut: secret }, null, 2)}\n`;
}
