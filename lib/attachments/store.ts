import 'server-only';
import { createHash } from 'node:crypto';
import path from 'node:path';
import { Disk } from 'flydrive';
import { FSDriver } from 'flydrive/drivers/fs';
import { S3Driver } from 'flydrive/drivers/s3';
import { settings } from '@/lib/platform/env';
import { FILE_COPIES, type FileCopy } from './schema';

let disk: Disk | undefined;

/** Where files lie: the data folder, or any S3-compatible store when FILES_S3_BUCKET is set. */
function fileStore(): Disk {
  disk ??= openStore();
  return disk;
}

function openStore(): Disk {
  const { FILES_S3_BUCKET: bucket, FURCULA_DATA, ...s3 } = settings();
  if (bucket === undefined)
    return new Disk(new FSDriver({ location: path.resolve(FURCULA_DATA, 'files'), visibility: 'private' }));
  return new Disk(
    new S3Driver({
      bucket,
      region: s3.FILES_S3_REGION,
      endpoint: s3.FILES_S3_ENDPOINT,
      // A bucket as a folder of the address: what stores other than the first one understand.
      forcePathStyle: s3.FILES_S3_ENDPOINT !== undefined,
      credentials: { accessKeyId: s3.FILES_S3_KEY, secretAccessKey: s3.FILES_S3_SECRET },
      visibility: 'private',
      supportsACL: false,
    }),
  );
}

export type StoredFile = { collectionId: string; id: string };
const keyOf = ({ collectionId, id }: StoredFile, copy: FileCopy) => `${collectionId}/${id}/${copy}`;

export const sha256Of = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

export const putCopy = (file: StoredFile, copy: FileCopy, bytes: Uint8Array): Promise<void> =>
  fileStore().put(keyOf(file, copy), bytes);

/** Whether a write failed, or came from one that failed, because the disk or the quota is used up. Pure. */
export function saysDiskIsFull(error: unknown): boolean {
  for (let found = error; found instanceof Error; found = found.cause)
    if (['ENOSPC', 'EDQUOT'].includes((found as NodeJS.ErrnoException).code ?? '')) return true;
  return false;
}

/** Writes a file's copies, the original last. */
export async function putCopies(
  file: StoredFile,
  copies: Partial<Record<FileCopy, Uint8Array>>,
): Promise<void> {
  for (const copy of [...FILE_COPIES].reverse()) {
    const bytes = copies[copy];
    if (bytes !== undefined) await putCopy(file, copy, bytes);
  }
}

/** The bytes of one copy, or null where the store has none. */
export async function readCopy(file: StoredFile, copy: FileCopy): Promise<Uint8Array | null> {
  const key = keyOf(file, copy);
  return (await fileStore().exists(key)) ? fileStore().getBytes(key) : null;
}

/** Takes back the copies of a file whose record was not kept. */
export const dropCopies = ({ collectionId, id }: StoredFile): Promise<void> =>
  fileStore().deleteAll(`${collectionId}/${id}/`);
