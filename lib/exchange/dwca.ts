import type { Writable } from 'node:stream';
import { create } from 'xmlbuilder2';
import { type ExportMetadata, writeEml } from '@/lib/exchange/eml';
import type { ExportBird, ExportHolder } from '@/lib/exchange/export-types';
import { mapIdentification, mapMeasurement, mapMedia, mapOccurrence } from '@/lib/exchange/map-bird';
import * as material from '@/lib/exchange/map-material';
import * as terms from '@/lib/exchange/terms';
import { type TableShape, type TermRow, termIri } from '@/lib/exchange/terms';
import { type ArchiveCounts, quoteField, writeZipOfTables } from '@/lib/exchange/zip-tables';

export interface ArchiveOptions {
  holder: ExportHolder;
  metadata: ExportMetadata;
  /** Called with the number of birds done, every few thousand. */
  onProgress?: (birds: number) => void;
  signal?: AbortSignal;
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

function writeArchive(
  birds: AsyncIterable<ExportBird>,
  out: Writable,
  { holder, metadata, onProgress, signal }: ArchiveOptions,
  core: TableShape,
  extensions: readonly TableShape[],
  emitBird: (bird: ExportBird, holder: ExportHolder, emit: Emit) => void,
): Promise<ArchiveCounts> {
  const plan = {
    documents: [
      { fileName: 'meta.xml', text: writeMetaXml(core, extensions) },
      { fileName: 'eml.xml', text: writeEml(metadata) },
    ],
    tables: [core, ...extensions].map((shape) => ({ fileName: shape.fileName, head: writeHeader(shape) })),
    publishedOn: metadata.publishedOn,
    onProgress,
    signal,
  };
  return writeZipOfTables(birds, out, plan, (bird, write) =>
    emitBird(bird, holder, (shape, id, rows) =>
      write(
        shape.fileName,
        rows.map((row) => writeLine(id, row, shape)),
      ),
    ),
  );
}
