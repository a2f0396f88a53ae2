import 'server-only';
import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import { say } from '@/lib/platform/words/say';
import type { Actor } from './actor';
import { db, type Tx } from './db';
import { AppError } from './errors';

const PIECE_BYTES = 1 << 20;

/** A file as it came with a request. */
export type IncomingFile = {
  fileName: string;
  body: ReadableStream<Uint8Array> | null;
  largestBytes: number;
};

export type HandedInFile = { id: string; fileName: string; sizeBytes: number };

/**
 * Keeps a file for background work, in pieces, as it streams in. A file that is cut short or too large leaves nothing.
 * @throws AppError bad-request when it is empty or larger than allowed.
 */
export async function keepHandedInFile(actor: Actor, file: IncomingFile): Promise<HandedInFile> {
  const { id } = await db().handedInFile.create({
    data: { collectionId: actor.collectionId, fileName: file.fileName, handedInById: actor.personId },
  });
  try {
    const { sizeBytes, sha256 } = await writePieces(id, file);
    await db().handedInFile.update({ where: { id }, data: { sizeBytes, sha256 } });
    return { id, fileName: file.fileName, sizeBytes };
  } catch (error) {
    await dropHandedInFile(db(), id);
    throw error;
  }
}

/** A body as Node reads it; none is an empty one. */
const chunksOf = (body: IncomingFile['body']): AsyncIterable<Uint8Array> =>
  body === null ? Readable.from([]) : (body as unknown as AsyncIterable<Uint8Array>);

async function writePieces(
  fileId: string,
  { body, largestBytes }: IncomingFile,
): Promise<{ sizeBytes: number; sha256: string }> {
  const hash = createHash('sha256');
  let waiting: Buffer[] = [];
  let [waitingBytes, sizeBytes, number] = [0, 0, 0];
  const flush = async () => {
    if (waitingBytes === 0) return;
    await db().handedInPiece.create({
      data: { fileId, number, bytes: new Uint8Array(Buffer.concat(waiting)) },
    });
    number += 1;
    waiting = [];
    waitingBytes = 0;
  };
  for await (const chunk of chunksOf(body)) {
    sizeBytes += chunk.byteLength;
    if (sizeBytes > largestBytes) {
      const most = Math.round(largestBytes / 1024 / 1024);
      throw new AppError(
        'bad-request',
        say('The file is larger than {most} MB. Nothing was kept; split it.', { most }),
      );
    }
    hash.update(chunk);
    waiting.push(Buffer.from(chunk));
    waitingBytes += chunk.byteLength;
    if (waitingBytes >= PIECE_BYTES) await flush();
  }
  await flush();
  if (sizeBytes === 0) throw new AppError('bad-request', say('The file is empty. Choose another one.'));
  return { sizeBytes, sha256: hash.digest('hex') };
}

/** The bytes of a file that was handed in, one piece in memory at a time; anew at each call. */
export function openHandedInFile(fileId: string): Readable {
  return Readable.from(readPieces(fileId));
}

async function* readPieces(fileId: string): AsyncGenerator<Buffer> {
  for (let number = 0; ; number += 1) {
    const piece = await db().handedInPiece.findUnique({ where: { fileId_number: { fileId, number } } });
    if (piece === null) return;
    yield Buffer.from(piece.bytes);
  }
}

/** Forgets a file whose work is done. */
export async function dropHandedInFile(tx: Tx, fileId: string): Promise<void> {
  await tx.handedInFile.deleteMany({ where: { id: fileId } });
}

/** Forgets files whose work never began or never ended. */
export async function dropOldHandedInFiles(before: Date): Promise<number> {
  const { count } = await db().handedInFile.deleteMany({ where: { createdAt: { lt: before } } });
  return count;
}
