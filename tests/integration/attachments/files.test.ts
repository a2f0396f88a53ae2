import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import ExifReader from 'exifreader';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { FileCopy } from '@/lib/attachments/schema';
import { makePhoto } from '@/seed/factories/pictures';

const folder = vi.hoisted(() => ({ path: '' }));
vi.mock('@/lib/platform/env', async (load) => {
  const real = await load<typeof import('@/lib/platform/env')>();
  return { ...real, settings: () => ({ ...real.settings(), FURCULA_DATA: folder.path }) };
});

import { addFile, captionFile, listFiles, openFile, removeFile } from '@/lib/attachments/service';
import { verifyFiles } from '@/lib/attachments/verify';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';

const PLACE = { latitude: 40.1234, longitude: -82.6543 };
let collectionId: string;
let preparator: Actor;
let volunteer: Actor;
let bird: Awaited<ReturnType<typeof makeBird>>;
let photo: Buffer;

const bodyOf = (bytes: Uint8Array) => new Blob([new Uint8Array(bytes)]).stream();
const add = (bytes: Uint8Array, input: { by?: Actor; fileName?: string; birdId?: string } = {}) =>
  addFile(
    contextOf(input.by ?? preparator),
    { subjectType: 'bird', subjectId: input.birdId ?? bird.id, fileName: input.fileName ?? 'IMG_1.jpg' },
    bodyOf(bytes),
  );
const open = async (actor: Actor, id: string, copy: FileCopy) =>
  Buffer.from((await openFile(contextOf(actor), id, copy)).body as Uint8Array);

beforeAll(async () => {
  folder.path = mkdtempSync(path.join(os.tmpdir(), 'furcula-files-'));
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
  volunteer = await makeActor(db(), collectionId, 'volunteer');
  const taxonId = await makeTaxon(db(), { scientificName: 'Falco rusticolus', sensitive: true });
  bird = await makeBird(db(), collectionId, { taxonId });
  photo = await makePhoto(PLACE);
});
afterAll(() => rmSync(folder.path, { recursive: true, force: true }));

describe('a photo', () => {
  it('is kept as handed in; its copies carry no place and no other metadata', async () => {
    expect(ExifReader.load(photo, { expanded: true }).gps?.Latitude).toBeCloseTo(PLACE.latitude, 3);
    const row = await add(photo);
    expect(row).toMatchObject({
      mediaType: 'image/jpeg',
      widthPx: 600,
      heightPx: 400,
      hasPlace: true,
      takenAt: '2025-04-03T12:30:00.000Z',
    });
    expect(await open(preparator, row.id, 'original')).toEqual(photo);
    for (const copy of ['public', 'thumb'] as const) {
      const bytes = await open(preparator, row.id, copy);
      expect(ExifReader.load(bytes, { expanded: true }), copy).not.toHaveProperty('exif');
      expect(ExifReader.load(bytes, { expanded: true }), copy).not.toHaveProperty('gps');
      expect(bytes.includes('Exif'), copy).toBe(false);
    }
  });

  it('of a sensitive bird: the original only for who may see its place, and opening it is written down', async () => {
    const row = await add(await makePhoto(PLACE, 1));
    await expect(open(volunteer, row.id, 'original')).rejects.toMatchObject({ code: 'not-found' });
    expect((await open(volunteer, row.id, 'public')).length).toBeGreaterThan(0);
    await open(preparator, row.id, 'original');
    const read = await db().auditEvent.findFirst({
      where: { birdId: bird.id, kind: 'attachments.original-read', actorId: preparator.personId },
    });
    expect(read?.payload).toMatchObject({ mediaType: 'image/jpeg' });
  });

  it('is refused where its content is not what its name says, damaged, or there already', async () => {
    await expect(add(Buffer.from('<script>alert(1)</script>'))).rejects.toMatchObject({ code: 'not-valid' });
    const cut = photo.subarray(0, 400);
    await expect(add(cut)).rejects.toMatchObject({ code: 'not-valid' });
    const again = await makePhoto(null, 2);
    await add(again);
    await expect(add(again)).rejects.toMatchObject({ code: 'conflict' });
    await expect(add(Buffer.alloc(0))).rejects.toMatchObject({ code: 'bad-request' });
  });

  it('a PDF named as a photo is kept as the PDF it is', async () => {
    const row = await add(Buffer.from('%PDF-1.4\n1 0 obj<<>>endobj\ntrailer<<>>\n%%EOF\n'), {
      fileName: 'a.jpg',
    });
    expect(row).toMatchObject({ mediaType: 'application/pdf', fileName: 'a.pdf', isPicture: false });
  });

  it('its caption changes, its bytes never; removed, it is gone from sight with the reason kept', async () => {
    const row = await add(await makePhoto(null, 3));
    expect((await captionFile(contextOf(preparator), row.id, 'Left wing')).caption).toBe('Left wing');
    await expect(captionFile(contextOf(volunteer), row.id, 'x')).rejects.toMatchObject({ code: 'forbidden' });
    await expect(
      db().attachment.update({ where: { id: row.id }, data: { sha256: 'a'.repeat(64) } }),
    ).rejects.toThrow(/stays as it is/);
    await removeFile(contextOf(preparator), row.id, 'Shows another bird');
    const { rows } = await listFiles(preparator, { subjectType: 'bird', subjectId: bird.id });
    expect(rows.map(({ id }) => id)).not.toContain(row.id);
    await expect(open(preparator, row.id, 'thumb')).rejects.toMatchObject({ code: 'not-found' });
    const gone = await db().auditEvent.findFirst({ where: { kind: 'attachments.removed', birdId: bird.id } });
    expect(gone?.reason).toBe('Shows another bird');
  });

  it('nothing of another collection', async () => {
    const row = await add(await makePhoto(null, 4));
    const stranger = await makeActor(db(), await makeCollection(db()), 'curator');
    await expect(open(stranger, row.id, 'thumb')).rejects.toMatchObject({ code: 'not-found' });
    await expect(add(photo, { by: stranger })).rejects.toMatchObject({ code: 'not-found' });
  });
});

describe('the store', () => {
  it('is compared with the digests of the day each file came', async () => {
    const row = await add(await makePhoto(null, 5));
    expect((await verifyFiles()).faults).toEqual([]);
    const stored = path.join(folder.path, 'files', collectionId, row.id, 'public');
    const whole = readFileSync(stored);
    writeFileSync(stored, Buffer.concat([whole, Buffer.from('x')]));
    expect((await verifyFiles()).faults).toEqual([{ id: row.id, copy: 'public', why: 'changed' }]);
    await expect(open(preparator, row.id, 'public')).rejects.toMatchObject({ code: 'unavailable' });
    rmSync(stored);
    expect((await verifyFiles()).faults).toEqual([{ id: row.id, copy: 'public', why: 'missing' }]);
    writeFileSync(stored, whole);
  });
});
