import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, inject, it, vi } from 'vitest';
import { addFile, removeFile } from '@/lib/attachments/service';
import { checkBackup } from '@/lib/ops/backup/manifest';
import { makeScheduledBackup } from '@/lib/ops/backup/schedule';
import { makeBackup } from '@/lib/ops/backup/write';
import { makeScratchDir, removeScratchDir } from '@/lib/ops/scratch-dir';
import { askInvariants } from '@/lib/ops/verify';
import { chooseOld, findNewestBackup } from '@/lib/platform/backup-names';
import { db } from '@/lib/platform/db';
import { withTx } from '@/lib/platform/tx';
import { contextOf, makeActor, makeBird, makeCollection } from '@/seed/factories';
import { makePhoto } from '@/seed/factories/pictures';
import { runProgram, withScratchDir } from './programs';

const SECRET = 'only-for-tests-and-nowhere-else';
const dataDir = vi.hoisted(() => {
  const dir = `${process.env.TMPDIR ?? '/tmp'}/furcula-backup-data-${process.pid}`;
  process.env.FURCULA_DATA = dir;
  return dir;
});
const source = process.env.DATABASE_URL ?? '';
const target = new URL(source);
target.pathname = `${target.pathname}_restored`;
const targetName = target.pathname.slice(1);

let dir: string;
let collectionId: string;
let kept: string;
let fileId: string;

async function admin(...statements: string[]): Promise<void> {
  const client = new Client({ connectionString: inject('adminUrl') });
  await client.connect();
  for (const statement of statements) await client.query(statement);
  await client.end();
}
const emptyTarget = () =>
  admin(
    `DROP DATABASE IF EXISTS "${targetName}" WITH (FORCE)`,
    `CREATE DATABASE "${targetName}" TEMPLATE "${inject('templateName')}"`,
  );
const restore = (folder: string, data: string) =>
  runProgram('restore-command.ts', { DATABASE_URL: target.href, FURCULA_DATA: data }, [folder]);
const backUp = (databaseUrl: string, data: string, folder: string) =>
  runProgram('backup-command.ts', { DATABASE_URL: databaseUrl, FURCULA_DATA: data }, [folder]);

async function isTargetEmpty(): Promise<boolean> {
  const client = new Client({ connectionString: target.href });
  await client.connect();
  const { rows } = await client.query(
    `SELECT (SELECT count(*) FROM "Person") + (SELECT count(*) FROM "Collection") + (SELECT count(*) FROM "AuditEvent")
       + (SELECT count(*) FROM graphile_worker._private_jobs) AS rows`,
  );
  await client.end();
  return Number(rows[0]?.rows) === 0;
}

/** Every file under a folder with its bytes. */
const readAll = (folder: string): Map<string, Buffer> =>
  new Map(
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => {
        const file = path.join(entry.parentPath, entry.name);
        return [path.relative(folder, file), readFileSync(file)];
      }),
  );

const bodyOf = (bytes: Uint8Array) => new Blob([new Uint8Array(bytes)]).stream();

/** Birds, photos (one of them removed), events, work that waits. */
beforeAll(async () => {
  dir = makeScratchDir('backup');
  collectionId = await makeCollection(db());
  const curator = await makeActor(db(), collectionId, 'curator');
  const birds = await Promise.all(Array.from({ length: 4 }, () => makeBird(db(), collectionId)));
  const add = async (index: number) =>
    addFile(
      contextOf(curator),
      { subjectType: 'bird', subjectId: birds[index]?.id ?? '', fileName: `${index}.jpg` },
      bodyOf(await makePhoto(null, index)),
    );
  fileId = (await add(0)).id;
  await add(1);
  await removeFile(contextOf(curator), (await add(2)).id, 'Not this bird.');
  await withTx(contextOf(curator), async (work) => {
    work.enqueue(
      'salvage.nothing',
      { of: 'a test' },
      { runAt: new Date('2031-02-03T04:05:06.789Z'), jobKey: 'k' },
    );
    work.audit({ kind: 'salvage.logged', subjectType: 'bird', subjectId: birds[0]?.id ?? '', payload: {} });
  });
  kept = path.join(dir, 'kept');
  const outcome = await backUp(source, dataDir, kept);
  expect(outcome).toMatchObject({ code: 0, stderr: '' });
});
afterAll(async () => {
  removeScratchDir(dir);
  removeScratchDir(dataDir);
  await admin(`DROP DATABASE IF EXISTS "${targetName}" WITH (FORCE)`);
});

describe('a backup', () => {
  it('says what it holds', async () => {
    const manifest = await checkBackup(kept);
    expect(manifest.tables).toMatchObject({ Bird: { rows: 4 }, Attachment: { rows: 3 } });
    expect(manifest).toMatchObject({ jobs: 1, damaged: [], heads: [{ collectionId }] });
    expect(manifest.files.filter(({ path: name }) => name.startsWith('files/'))).toHaveLength(9);
  });

  it('holds no secret, and says which settings it left out', () => {
    const password = new URL(source).password;
    expect(password.length).toBeGreaterThan(8);
    for (const [name, bytes] of readAll(kept)) {
      expect(bytes.includes(SECRET), name).toBe(false);
      expect(bytes.includes(password), name).toBe(false);
    }
    const { settings, leftOut } = JSON.parse(readFileSync(path.join(kept, 'settings.json'), 'utf8'));
    expect(settings).toMatchObject({ BACKUP_KEEP: 14 });
    for (const name of leftOut) expect(settings).not.toHaveProperty(name);
    expect(leftOut).toContain('NEXTAUTH_SECRET');
  });

  it('goes into a new folder only, and leaves none behind that is not whole', async () => {
    const before = readAll(kept);
    await expect(makeBackup(source, kept)).rejects.toThrow('is there already');
    expect(readAll(kept)).toEqual(before);
    const unreachable = 'postgresql://furcula:x@127.0.0.1:1/furcula';
    await expect(makeBackup(unreachable, path.join(dir, 'never'))).rejects.toThrow('cannot be reached');
    expect(readdirSync(dir)).toEqual(['kept']);
  });

  it('names a stored file that the installation itself has lost, and keeps everything else', () =>
    withScratchDir(async (data) => {
      const outcome = await backUp(source, data, path.join(data, 'kept'));
      expect(outcome.code).toBe(1);
      expect(outcome.stdout).toContain(
        `missing or changed in the file store: files/${collectionId}/${fileId}/original`,
      );
      expect(outcome.stderr).toContain('6 stored files are damaged');
      expect((await checkBackup(path.join(data, 'kept'))).tables.Bird?.rows).toBe(4);
    }));
});

describe('a restore', () => {
  it('gives the same installation: rows, digests, chains, files, work that waits', () =>
    withScratchDir(async (data) => {
      await emptyTarget();
      const outcome = await restore(kept, data);
      // Rows of the test's makers pass some commands over: what is broken is what was broken before.
      const broken = (await askInvariants(source)).filter((invariant) => invariant.broken > 0);
      expect((await askInvariants(target.href)).filter((invariant) => invariant.broken > 0)).toEqual(broken);
      expect(outcome.stdout).toContain('whole, 1 anchors hold');
      expect(outcome.stdout).toContain('2 files: each as it was handed in');
      expect(outcome).toMatchObject({ code: broken.length === 0 ? 0 : 1, stderr: '' });
      expect(readAll(path.join(data, 'files'))).toEqual(readAll(path.join(dataDir, 'files')));

      const again = path.join(dir, 'again');
      expect((await backUp(target.href, data, again)).code).toBe(0);
      const [first, second] = [await checkBackup(kept), await checkBackup(again)];
      expect(second).toEqual({ ...first, madeAt: second.madeAt, files: second.files });
      const withoutSettings = ({ files }: typeof first) =>
        files.filter(({ path: name }) => name !== 'settings.json');
      expect(withoutSettings(second)).toEqual(withoutSettings(first));
    }));

  it('is refused where somebody already is, and where files already are; nothing changes there', () =>
    withScratchDir(async (data) => {
      const full = await restore(kept, data);
      expect(full.code).toBe(1);
      expect(full.stderr.trim()).toBe('A package goes into an empty installation only.');
      expect(existsSync(path.join(data, 'files'))).toBe(false);
      await emptyTarget();
      const stored = path.join(data, 'files', collectionId, fileId);
      mkdirSync(stored, { recursive: true });
      writeFileSync(path.join(stored, 'original'), 'other');
      const outcome = await restore(kept, data);
      expect(outcome.code).toBe(1);
      expect(outcome.stderr).toContain('The file store holds');
      expect(await isTargetEmpty()).toBe(true);
      expect([...readAll(data).values()].map(String)).toEqual(['other']);
    }));

  it('of a backup with one byte changed: refused by the name of the file, whichever it is', async () => {
    const names = [...readAll(kept).keys()];
    expect(names.length).toBe(14);
    for (const name of names) {
      const file = path.join(kept, name);
      const bytes = readFileSync(file);
      const changed = Buffer.from(bytes);
      const at = Math.floor(bytes.length / 2);
      changed.writeUInt8(changed.readUInt8(at) ^ 1, at);
      writeFileSync(file, changed);
      const wanted = name === 'manifest.sha256' ? 'manifest.json' : name;
      await expect(checkBackup(kept), name).rejects.toThrow(
        `The backup is damaged: ${wanted} does not give its checksum`,
      );
      writeFileSync(file, bytes);
    }
    await expect(checkBackup(kept)).resolves.toBeDefined();
  });

  it('of a damaged backup says so in one sentence and leaves nothing', () =>
    withScratchDir(async (data) => {
      await emptyTarget();
      const file = path.join(kept, 'database.zip');
      const bytes = readFileSync(file);
      try {
        appendFileSync(file, '!');
        const outcome = await restore(kept, data);
        expect(outcome).toMatchObject({ code: 1, stdout: '' });
        expect(outcome.stderr.trim()).toBe(
          'The backup is damaged: database.zip does not give its checksum. Nothing was restored; take another backup, or a better copy of this one.',
        );
        expect(await isTargetEmpty()).toBe(true);
      } finally {
        writeFileSync(file, bytes);
      }
    }));

  it('of a backup in which a file is missing, or one too many', async () => {
    const file = path.join(kept, 'jobs.json');
    const bytes = readFileSync(file);
    rmSync(file);
    await expect(checkBackup(kept)).rejects.toThrow('jobs.json is missing');
    writeFileSync(file, bytes);
    writeFileSync(path.join(kept, 'other'), '');
    await expect(checkBackup(kept)).rejects.toThrow('other does not belong to it');
    rmSync(path.join(kept, 'other'));
    await expect(checkBackup(path.join(kept, 'files'))).rejects.toThrow('is not a backup');
  });
});

describe('a backup while people work', () => {
  it('is of one instant: it restores with chains and counts that fit each other', () =>
    withScratchDir(async (data) => {
      let working = true;
      let events = 0;
      const work = async () => {
        const clerk = await makeActor(db(), collectionId, 'registrar');
        while (working) {
          await withTx(contextOf(clerk), async ({ audit, db: tx }) => {
            const made = await makeBird(tx as never, collectionId);
            audit({ kind: 'salvage.logged', subjectType: 'bird', subjectId: made.id, payload: {} });
          });
          events += 1;
        }
      };
      const folder = path.join(data, 'kept');
      const workers = [work(), work()];
      while (events < 5) await new Promise((resolve) => setTimeout(resolve, 10));
      const before = events;
      const manifest = await makeBackup(source, folder);
      working = false;
      await Promise.all(workers);
      expect(events).toBeGreaterThan(before);
      expect(manifest.tables.AuditEvent?.rows).toBe(manifest.heads.reduce((sum, { seq }) => sum + seq, 0));
      await emptyTarget();
      const outcome = await restore(folder, path.join(data, 'data'));
      expect(outcome.stderr).toBe('');
      expect(outcome.stdout).toContain(`${manifest.heads[0]?.seq} events, whole, 1 anchors hold`);
    }));
});

describe('backups by the clock', () => {
  it.each([
    ['fewer than are kept', ['furcula-20260101T013000Z'], 2, []],
    [
      'the oldest go, whatever their order, and nothing else does',
      [
        'notes.txt',
        'furcula-20260103T013000Z',
        'furcula-20251231T013000Z',
        'furcula-old',
        'furcula-20260102T013000Z',
      ],
      2,
      ['furcula-20251231T013000Z'],
    ],
    [
      'one that is not whole is none',
      ['furcula-20260101T013000Z.unfinished', 'furcula-20260102T013000Z'],
      1,
      [],
    ],
  ])('%s', (_, names, keep, old) => {
    expect(chooseOld(names, keep)).toEqual(old);
  });

  it('are made beside what else lies there, the newest two are kept, each can be restored from', () =>
    withScratchDir(async (folder) => {
      writeFileSync(path.join(folder, 'notes.txt'), 'stays');
      for (const day of [1, 2, 3]) {
        const at = new Date(Date.UTC(2026, 0, day, 1, 30));
        await makeScheduledBackup(source, { dir: folder, keep: 2, at });
      }
      const names = readdirSync(folder).sort();
      expect(names).toEqual(['furcula-20260102T013000Z', 'furcula-20260103T013000Z', 'notes.txt']);
      for (const name of names.slice(0, 2))
        await expect(checkBackup(path.join(folder, name))).resolves.toBeDefined();
      expect(findNewestBackup(folder)?.toISOString()).toBe('2026-01-03T01:30:00.000Z');
      expect(findNewestBackup(path.join(folder, 'none'))).toBeNull();
    }));
});
