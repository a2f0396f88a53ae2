import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import fsp from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { makePhoto } from '@/seed/factories/pictures';

const folder = vi.hoisted(() => ({ path: '' }));
vi.mock('@/lib/platform/env', async (load) => {
  const real = await load<typeof import('@/lib/platform/env')>();
  return { ...real, settings: () => ({ ...real.settings(), FURCULA_DATA: folder.path }) };
});

import { addFile } from '@/lib/attachments/service';
import { saysDiskIsFull } from '@/lib/attachments/store';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { problemResponse } from '@/lib/platform/http';
import { contextOf, makeActor, makeBird, makeCollection } from '@/seed/factories';

const DISK_BYTES = 256 * 1024;
let isRealDisk = false;
let preparator: Actor;
let birdId: string;

/** A disk of 256 kB where this process may mount one; elsewhere the test below makes the write itself fail. */
beforeAll(async () => {
  folder.path = mkdtempSync(path.join(os.tmpdir(), 'furcula-small-disk-'));
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${DISK_BYTES}`, 'tmpfs', folder.path], {
      stdio: 'ignore',
    });
    isRealDisk = true;
  } catch {
    isRealDisk = false;
  }
  const collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
  birdId = (await makeBird(db(), collectionId)).id;
});
afterAll(() => {
  if (isRealDisk) execFileSync('umount', [folder.path]);
  rmSync(folder.path, { recursive: true, force: true });
});

const add = (bytes: Uint8Array, fileName: string) =>
  addFile(
    contextOf(preparator),
    { subjectType: 'bird', subjectId: birdId, fileName },
    new Blob([new Uint8Array(bytes)]).stream(),
  );

const filesKept = (): number =>
  readdirSync(folder.path, { recursive: true, encoding: 'utf8' }).filter((name) =>
    statSync(path.join(folder.path, name)).isFile(),
  ).length;

/** A document as far as its beginning and end say, of some size. */
const pdfOf = (bytes: number): Uint8Array => {
  const document = new Uint8Array(bytes);
  document.set(Buffer.from('%PDF-1.7\n'));
  document.set(Buffer.from('%%EOF\n'), bytes - 6);
  return document;
};

/** The next writes of files fail as on a full disk, after some of the bytes. */
function fillDisk(): () => void {
  const write = fsp.writeFile;
  const spy = vi.spyOn(fsp, 'writeFile').mockImplementation(async (file, data) => {
    await write(file, (data as Uint8Array).subarray(0, 10));
    throw Object.assign(new Error('ENOSPC: no space left on device, write'), { code: 'ENOSPC' });
  });
  return () => spy.mockRestore();
}

it('a file that no longer fits: a plain answer, nothing half-written, no row; what fits is taken again', async () => {
  const photo = await makePhoto({ latitude: 40, longitude: -83 });
  await add(photo, 'first.jpg');
  const [kept, rows, events] = [filesKept(), await db().attachment.count(), await db().auditEvent.count()];
  expect(kept).toBeGreaterThan(0);
  const undo = isRealDisk ? () => {} : fillDisk();
  const error = await add(pdfOf(2 * DISK_BYTES), 'scan.pdf').catch((thrown: unknown) => thrown);
  undo();
  const answer = problemResponse(error, 'request');
  expect(answer.status).toBe(503);
  expect(answer.headers.get('retry-after')).not.toBeNull();
  expect(await answer.json()).toMatchObject({
    code: 'unavailable',
    title: expect.stringContaining('no room left for files'),
  });
  expect(filesKept()).toBe(kept);
  expect(await db().attachment.count()).toBe(rows);
  expect(await db().auditEvent.count()).toBe(events);
  expect(await add(pdfOf(2_000), 'note.pdf')).toMatchObject({ fileName: 'note.pdf' });
});

it.each([
  ['ENOSPC', true],
  ['EDQUOT', true],
  ['EACCES', false],
])('%s, wrapped by the store or not: full is %s', (code, full) => {
  const cause = Object.assign(new Error('write'), { code });
  expect(saysDiskIsFull(cause)).toBe(full);
  expect(saysDiskIsFull(new Error('Cannot write file', { cause }))).toBe(full);
});
