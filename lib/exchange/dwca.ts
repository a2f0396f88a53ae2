import type { EventEmitter } from 'node:events';
import { createReadStream, createWriteStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PassThrough, type Writable } from 'node:stream';
import { finished, pipeline } from 'node:stream/promises';
import { create } from 'xmlbuilder2';
import { ZipFile } from 'yazl';
import { type ExportMetadata, writeEml } from '@/lib/exchange/eml';
import type { ExportBird, ExportHolder } from '@/lib/exchange/export-types';
import { mapIdentification, mapMeasurement, mapMedia, mapOccurrence } from '@/lib/exchange/map-bird';
import * as material from '@/lib/exchange/map-material';
import * as terms from '@/lib/exchange/terms';
import { type TableShape, type TermRow, termIri } from '@/lib/exchange/terms';

export interface ArchiveOptions {
  holder: ExportHolder;
  metadata: ExportMetadata;
  /** Called with the number of birds done, every few thousand. */
  onProgress?: (birds: number) => void;
  signal?: AbortSignal;
}

export interface ArchiveCounts {
  birds: number;
  /** Rows by file name. */
  rows: Record<string, number>;
}

/** `meta.xml` by the Darwin Core text guide: every default written out, id before fields, index from 0. */
export function writeMetaXml(core: TableShape, extensions: readonly TableShape[]): string {
  const describeTable = (shape: TableShape, idElement: 'id' | 'coreid') => ({
    '@encoding': 'UTF-8',
    '@fieldsTerminatedBy': ',',
    '@linesTerminatedBy': '\\n',
    '@fieldsEnclosedBy': '"',
    '@ignoreHeaderLines': '1',
    '@dateFormat': 'YYYY-MM-DD',
    '@rowType': termIri(shape.rowType),
    files: { location: shape.fileName },
    [idElement]: { '@index': '0' },
    field: shape.columns.map((column, index) => ({ '@index': String(index + 1), '@term': termIri(column) })),
  });
  const root = {
    archive: {
      '@xmlns': 'http://rs.tdwg.org/dwc/text/',
      '@metadata': 'eml.xml',
      core: describeTable(core, 'id'),
      extension: extensions.map((shape) => describeTable(shape, 'coreid')),
    },
  };
  return `${create({ version: '1.0', encoding: 'UTF-8' }, root).end({ prettyPrint: true })}\n`;
}

/**
 * One field of a comma-separated file. Written by hand because a million rows of ninety columns spend most of
 * their time here; the general library takes several times as long.
 */
export function quoteField(value: string | number | boolean | null | undefined): string {
  if (value === null || value === undefined) return '';
  const text = String(value);
  return /[",\r\n]|^\s|\s$/.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
}

function writeLine(id: string, row: TermRow, shape: TableShape): string {
  let line = quoteField(id);
  for (const column of shape.columns) line += `,${quoteField(row[column])}`;
  return `${line}\n`;
}

function writeHeader(shape: TableShape): string {
  return `id,${shape.columns.map((column) => column.slice(column.indexOf(':') + 1)).join(',')}\n`;
}

type Emit = (shape: TableShape, id: string, rows: TermRow[]) => void;

/** The rows of one bird in the occurrence archive; the core row comes first. */
function emitOccurrence(bird: ExportBird, holder: ExportHolder, emit: Emit): void {
  const id = bird.occurrenceId;
  emit(terms.OCCURRENCE, id, [mapOccurrence(bird, holder)]);
  emit(terms.IDENTIFICATION, id, bird.identifications.map(mapIdentification));
  emit(terms.MEASUREMENT, id, bird.measurements.map(mapMeasurement));
  emit(terms.RELATIONSHIP, id, bird.materials.flatMap(material.mapRelationships));
  emit(terms.MULTIMEDIA, id, bird.media.map(mapMedia));
  emit(
    terms.MATERIAL,
    id,
    bird.materials.map((one) => material.mapMaterial(one, bird, holder)),
  );
}

/** The rows of one bird in the material archive: a core row for each of its things. */
function emitMaterials(bird: ExportBird, holder: ExportHolder, emit: Emit): void {
  for (const one of bird.materials) {
    emit(terms.MATERIAL_CORE, one.id, [material.mapMaterialCore(one, bird, holder)]);
    emit(terms.MATERIAL_SAMPLE, one.id, material.mapSample(one));
    emit(terms.PRESERVATION, one.id, material.mapPreservations(one));
    emit(terms.PREPARATION, one.id, material.mapPreparations(one));
    emit(terms.PERMIT, one.id, material.mapPermits(one));
    emit(terms.LOAN, one.id, material.mapLoans(one));
    emit(terms.RELATIONSHIP, one.id, material.mapRelationships(one));
  }
}

/** One core row a bird, everything else as extensions. The birds are read once, in their order. */
export function writeOccurrenceArchive(
  birds: AsyncIterable<ExportBird>,
  out: Writable,
  options: ArchiveOptions,
): Promise<ArchiveCounts> {
  return writeArchive(birds, out, options, terms.OCCURRENCE, terms.OCCURRENCE_EXTENSIONS, emitOccurrence);
}

/** One core row a material, with the GGBN extensions. */
export function writeMaterialArchive(
  birds: AsyncIterable<ExportBird>,
  out: Writable,
  options: ArchiveOptions,
): Promise<ArchiveCounts> {
  return writeArchive(birds, out, options, terms.MATERIAL_CORE, terms.MATERIAL_EXTENSIONS, emitMaterials);
}

/**
 * The core goes straight into the zip while the extensions wait in files of their own, because a zip takes one
 * entry after the other; so one pass over the birds is enough and memory stays flat.
 */
async function writeArchive(
  birds: AsyncIterable<ExportBird>,
  out: Writable,
  options: ArchiveOptions,
  core: TableShape,
  extensions: readonly TableShape[],
  emitBird: (bird: ExportBird, holder: ExportHolder, emit: Emit) => void,
): Promise<ArchiveCounts> {
  const folder = await mkdtemp(join(tmpdir(), 'archive-'));
  const zip = new ZipFile();
  const coreStream = new PassThrough({ highWaterMark: 1 << 20 });
  const spools = new Map(
    extensions.map((shape) => [shape.fileName, createWriteStream(join(folder, shape.fileName))]),
  );
  let failure: Error | null = null;
  // Whatever breaks first ends all of it: the reader of the zip, the files that wait, the birds still to come.
  const fail = (error: unknown) => {
    failure ??= error instanceof Error ? error : new Error(String(error));
    for (const stream of [coreStream, out, ...spools.values()]) stream.destroy(failure);
  };
  try {
    const emitters: EventEmitter[] = [zip, coreStream, ...spools.values()];
    for (const emitter of emitters) emitter.on('error', fail);
    const entry = entryOptions(options.metadata.publishedOn);
    zip.addBuffer(Buffer.from(writeMetaXml(core, extensions)), 'meta.xml', entry);
    zip.addBuffer(Buffer.from(writeEml(options.metadata)), 'eml.xml', entry);
    zip.addReadStreamLazy(core.fileName, entry, (give) => give(null, coreStream));
    for (const shape of extensions) {
      const path = join(folder, shape.fileName);
      zip.addReadStreamLazy(shape.fileName, entry, (give) => give(null, createReadStream(path)));
    }
    zip.end();
    const streams = new Map<string, Writable>([...spools, [core.fileName, coreStream]]);
    const written = pipeline(zip.outputStream, out, { signal: options.signal }).catch(fail);
    const filled = fillTables(birds, streams, [core, ...extensions], emitBird, options).catch(fail);
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
  shapes: readonly TableShape[],
  emitBird: (bird: ExportBird, holder: ExportHolder, emit: Emit) => void,
  options: ArchiveOptions,
): Promise<ArchiveCounts> {
  const waiting = new Map(shapes.map((shape) => [shape.fileName, writeHeader(shape)]));
  const counts: ArchiveCounts = {
    birds: 0,
    rows: Object.fromEntries(shapes.map((shape) => [shape.fileName, 0])),
  };
  const emit: Emit = (shape, id, rows) => {
    let text = waiting.get(shape.fileName) ?? '';
    for (const row of rows) text += writeLine(id, row, shape);
    waiting.set(shape.fileName, text);
    counts.rows[shape.fileName] = (counts.rows[shape.fileName] ?? 0) + rows.length;
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
    options.signal?.throwIfAborted();
    emitBird(bird, options.holder, emit);
    counts.birds += 1;
    if (counts.birds % 64 === 0) await flush(CHUNK_CHARACTERS);
    if (counts.birds % 5000 === 0) options.onProgress?.(counts.birds);
  }
  await flush(1);
  // The extension files must be whole before the core ends, because the zip then turns to them.
  const [core, ...extensions] = shapes.map((shape) => streams.get(shape.fileName));
  await Promise.all(
    extensions.map((stream) => {
      stream?.end();
      return stream && finished(stream);
    }),
  );
  core?.end();
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
