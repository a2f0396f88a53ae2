import type { EventEmitter } from 'node:events';
import { createReadStream, createWriteStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PassThrough, type Writable } from 'node:stream';
import { finished, pipeline } from 'node:stream/promises';
import { ZipFile } from 'yazl';
import type { ExportBird } from '@/lib/exchange/export-types';

export interface ZipPlan {
  /** Small files that stand first, as they are. */
  documents: readonly { fileName: string; text: string }[];
  /** Files that grow bird by bird, each with its first line; the first of them should be the largest. */
  tables: readonly { fileName: string; head: string }[];
  /** A calendar day, the time of every entry. */
  publishedOn: string;
  /** Called with the number of birds done, every few thousand. */
  onProgress?: (birds: number) => void;
  signal?: AbortSignal;
}

export interface ArchiveCounts {
  birds: number;
  /** Rows by file name. */
  rows: Record<string, number>;
}

/** Takes whole lines, each with its end, for one of the tables. */
export type WriteLines = (fileName: string, lines: readonly string[]) => void;

/**
 * One field of a comma-separated file. Written by hand because a million rows of ninety columns spend most of
 * their time here; the general library takes several times as long.
 */
export function quoteField(value: string | number | boolean | null | undefined): string {
  if (value === null || value === undefined) return '';
  const text = String(value);
  return /[",\r\n]|^\s|\s$/.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
}

/**
 * The first table goes straight into the zip while the others wait in files of their own, because a zip takes one
 * entry after the other; so one pass over the birds is enough and memory stays flat.
 */
export async function writeZipOfTables(
  birds: AsyncIterable<ExportBird>,
  out: Writable,
  plan: ZipPlan,
  emitBird: (bird: ExportBird, write: WriteLines) => void,
): Promise<ArchiveCounts> {
  const [first, ...others] = plan.tables;
  if (first === undefined) throw new Error('A zip of tables needs one.');
  const folder = await mkdtemp(join(tmpdir(), 'archive-'));
  const zip = new ZipFile();
  const firstStream = new PassThrough({ highWaterMark: 1 << 20 });
  const spools = new Map(others.map(({ fileName }) => [fileName, createWriteStream(join(folder, fileName))]));
  let failure: Error | null = null;
  // Whatever breaks first ends all of it: the reader of the zip, the files that wait, the birds still to come.
  const fail = (error: unknown) => {
    failure ??= error instanceof Error ? error : new Error(String(error));
    for (const stream of [firstStream, out, ...spools.values()]) stream.destroy(failure);
  };
  try {
    const emitters: EventEmitter[] = [zip, firstStream, ...spools.values()];
    for (const emitter of emitters) emitter.on('error', fail);
    const entry = entryOptions(plan.publishedOn);
    for (const { fileName, text } of plan.documents) zip.addBuffer(Buffer.from(text), fileName, entry);
    zip.addReadStreamLazy(first.fileName, entry, (give) => give(null, firstStream));
    for (const { fileName } of others) {
      const path = join(folder, fileName);
      zip.addReadStreamLazy(fileName, entry, (give) => give(null, createReadStream(path)));
    }
    zip.end();
    const streams = new Map<string, Writable>([[first.fileName, firstStream], ...spools]);
    const written = pipeline(zip.outputStream, out, { signal: plan.signal }).catch(fail);
    const filled = fillTables(birds, streams, plan, emitBird).catch(fail);
    const [counts] = await Promise.all([filled, written]);
    if (failure || !counts) throw failure ?? new Error('The export ended before it was whole.');
    return counts;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** The same time on every entry and in every time zone, so that the same data gives the same bytes. */
function entryOptions(publishedOn: string): { mtime: Date; mode: number; forceDosTimestamp: boolean } {
  const [year = 1980, month = 1, day = 1] = publishedOn.split('-').map(Number);
  return { mtime: new Date(year, month - 1, day), mode: 0o100644, forceDosTimestamp: true };
}

const CHUNK_CHARACTERS = 1 << 16;

async function fillTables(
  birds: AsyncIterable<ExportBird>,
  streams: Map<string, Writable>,
  plan: ZipPlan,
  emitBird: (bird: ExportBird, write: WriteLines) => void,
): Promise<ArchiveCounts> {
  const waiting = new Map(plan.tables.map(({ fileName, head }) => [fileName, head]));
  const counts: ArchiveCounts = {
    birds: 0,
    rows: Object.fromEntries(plan.tables.map(({ fileName }) => [fileName, 0])),
  };
  const write: WriteLines = (fileName, lines) => {
    let text = waiting.get(fileName) ?? '';
    for (const line of lines) text += line;
    waiting.set(fileName, text);
    counts.rows[fileName] = (counts.rows[fileName] ?? 0) + lines.length;
  };
  const flush = async (atLeast: number) => {
    for (const [fileName, text] of waiting) {
      const stream = streams.get(fileName);
      if (text.length < atLeast || text === '' || !stream) continue;
      waiting.set(fileName, '');
      if (!stream.write(text)) await waitForDrain(stream);
    }
  };
  for await (const bird of birds) {
    plan.signal?.throwIfAborted();
    emitBird(bird, write);
    counts.birds += 1;
    if (counts.birds % 64 === 0) await flush(CHUNK_CHARACTERS);
    if (counts.birds % 5000 === 0) plan.onProgress?.(counts.birds);
  }
  await flush(1);
  // The files that wait must be whole before the first table ends, because the zip then turns to them.
  const [first, ...others] = streams.values();
  await Promise.all(
    others.map((stream) => {
      stream.end();
      return finished(stream);
    }),
  );
  first?.end();
  return counts;
}

function waitForDrain(stream: Writable): Promise<void> {
  return new Promise((resolve, reject) => {
    const settle = (done: () => void) => {
      stream.off('drain', onDrain).off('close', onClose).off('error', reject);
      done();
    };
    const onDrain = () => settle(resolve);
    const onClose = () => settle(() => reject(new Error('The export was closed before it was whole.')));
    stream.once('drain', onDrain).once('close', onClose).once('error', reject);
  });
}
