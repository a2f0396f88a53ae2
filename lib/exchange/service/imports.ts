import 'server-only';
import { PassThrough, Readable } from 'node:stream';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { dropHandedInFile, keepHandedInFile } from '@/lib/platform/handed-in';
import type { FileAnswer } from '@/lib/platform/http';
import { cutPage, type PageQuery, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { suggestColumns } from '../columns';
import type { DryRunRow } from '../dry-run';
import { writeErrorFile } from '../error-file';
import { exchangeEvents } from '../events';
import { findImportField, IMPORT_FIELDS } from '../import-fields';
import { importSummary } from '../import-summary';
import {
  countRows,
  type FoundImport,
  findImport,
  findImports,
  insertImport,
  type KeptError,
  moveImport,
  namePerson,
  readRows,
} from '../repo/imports';
import {
  type ImportMappingRequest,
  type ImportRecord,
  type ImportRow,
  type ImportState,
  importMapping,
  LARGEST_IMPORT_BYTES,
} from '../schema';
import { openImport } from './import-rows';

const SAMPLE_ROWS = 5;

export async function listImports(
  actor: Actor,
  query: PageQuery,
): Promise<{ rows: ImportRow[]; next: string | null }> {
  authorise(actor, 'imports.run');
  const { rows, next } = cutPage(await findImports(db(), actor.collectionId, query), query.size, (row) =>
    writeCursor([row.createdAt.toISOString(), row.id]),
  );
  return {
    rows: await Promise.all(rows.map(async (row) => toRow(row, await namePerson(db(), row.startedById)))),
    next,
  };
}

export async function showImport(actor: Actor, id: string): Promise<ImportRecord> {
  authorise(actor, 'imports.run');
  return loadRecord(db(), actor, id);
}

/** Keeps a sheet and says what its columns may mean. @throws AppError not-valid when it is no table. */
export async function handInSheet(
  context: CommandContext,
  fileName: string,
  body: ReadableStream<Uint8Array> | null,
): Promise<ImportRecord> {
  const { actor } = context;
  authorise(actor, 'imports.run');
  const file = await keepHandedInFile(actor, { fileName, body, largestBytes: LARGEST_IMPORT_BYTES });
  try {
    const opened = await openImport({ fileName, fileId: file.id }).catch((error: Error) => {
      throw notValid(error.message, [{ path: 'file', message: error.message }]);
    });
    const sample: string[][] = [];
    for await (const row of opened.rows()) {
      sample.push(row.cells);
      if (sample.length === SAMPLE_ROWS) break;
    }
    return await withTx(context, async (work) => {
      const made = await insertImport(work.db, {
        collectionId: actor.collectionId,
        kind: 'salvage',
        fileName,
        fileId: file.id,
        startedById: personOf(actor),
        createdAt: work.now,
        summary: {
          header: opened.header,
          notes: opened.notes,
          sample,
          suggestions: suggestColumns(opened.header).map((one) => ({ ...one })),
        },
      });
      work.audit(
        exchangeEvents.make(
          'exchange.import-handed-in',
          { subjectType: 'import', subjectId: made.id },
          { fileName },
        ),
      );
      return loadRecord(work.db, actor, made.id);
    });
  } catch (error) {
    await dropHandedInFile(db(), file.id);
    throw error;
  }
}

type Act = {
  from: readonly ImportState[];
  to: ImportState;
  task?: string;
  reason?: string;
  mapping?: ImportMappingRequest;
  event: (run: FoundImport, work: Work) => void;
};

/** One step of an import: the conditional move, its event, and the job that does the work. */
async function act(context: CommandContext, id: string, step: Act): Promise<ImportRecord> {
  const { actor } = context;
  authorise(actor, 'imports.run');
  return withTx(context, async (work) => {
    const run = await findImport(work.db, actor.collectionId, id);
    if (run === null) throw notFound(say('This import'));
    const moved = await moveImport(work.db, id, step.from, step.to, {
      ...(step.task === undefined ? {} : { rowsDone: 0 }),
      ...(step.mapping === undefined ? {} : { mapping: step.mapping }),
    });
    if (moved === 0)
      throw conflict(say('This import is {state}; that cannot be done now.', { state: run.state }));
    step.event(run, work);
    if (step.task !== undefined) {
      work.enqueue(step.task, {
        importId: id,
        personId: personOf(actor),
        collectionId: actor.collectionId,
        reason: step.reason ?? null,
      });
    }
    return loadRecord(work.db, actor, id);
  });
}

/** Has every row checked as the import would; nothing is made. */
export async function checkImport(
  context: CommandContext,
  id: string,
  mapping: ImportMappingRequest,
): Promise<ImportRecord> {
  const problems = findMappingProblems(mapping);
  if (problems.length > 0) throw notValid(say('The columns are not mapped yet.'), problems);
  return act(context, id, {
    from: ['uploaded', 'checked'],
    to: 'checking',
    task: 'exchange.check-import',
    mapping,
    event: (run, work) =>
      work.audit(
        exchangeEvents.make(
          'exchange.import-check-begun',
          { subjectType: 'import', subjectId: id },
          { fileName: run.fileName, columns: mapping.fields },
        ),
      ),
  });
}

function findMappingProblems({ fields, defaults }: ImportMappingRequest) {
  const used = Object.values(fields);
  const unknown = [...used, ...Object.keys(defaults)].filter(
    (fieldId) => findImportField(fieldId) === undefined,
  );
  const twice = used.filter((fieldId, index) => used.indexOf(fieldId) !== index);
  const labelOf = (fieldId: string) => findImportField(fieldId)?.label ?? fieldId;
  const names = used.includes('scientificName') || used.includes('vernacularName');
  return [
    ...unknown.map((fieldId) => ({
      path: 'fields',
      message: say('There is no field {fieldId}.', { fieldId }),
    })),
    ...[...new Set(twice)].map((fieldId) => ({
      path: 'fields',
      message: say('{labelOf} stands for two columns; choose one.', { labelOf: labelOf(fieldId) }),
    })),
    ...(names ? [] : [{ path: 'fields', message: say('Say which column names the bird.') }]),
    ...(used.includes('foundOn')
      ? []
      : [{ path: 'fields', message: say('Say which column has the day it was found.') }]),
  ];
}

const plain =
  (kind: 'exchange.import-begun' | 'exchange.import-cancelled', id: string) =>
  (run: FoundImport, work: Work) =>
    work.audit(
      exchangeEvents.make(kind, { subjectType: 'import', subjectId: id }, { fileName: run.fileName }),
    );

/** Takes the rows that can be taken, in the background. */
export const runImport = (context: CommandContext, id: string) =>
  act(context, id, {
    from: ['checked'],
    to: 'running',
    task: 'exchange.run-import',
    event: plain('exchange.import-begun', id),
  });

/** Stops a running import soon; what it made stays, and can be taken back. */
export const cancelImport = (context: CommandContext, id: string) =>
  act(context, id, { from: ['running'], to: 'cancelling', event: plain('exchange.import-cancelled', id) });

/** Takes back what an import made, but for records somebody worked on since. */
export async function undoImport(context: CommandContext, id: string, reason: string): Promise<ImportRecord> {
  authorise(context.actor, 'salvage.triage');
  return act(context, id, {
    from: ['done', 'cancelled', 'failed'],
    to: 'undoing',
    task: 'exchange.undo-import',
    reason,
    event: (run, work) =>
      work.audit(
        exchangeEvents.make(
          'exchange.import-undo-begun',
          { subjectType: 'import', subjectId: id, reason },
          { fileName: run.fileName },
        ),
      ),
  });
}

/** The rows that could not be taken, as they came, with the reasons; corrected, the file loads again. */
export async function writeImportErrors(actor: Actor, id: string): Promise<FileAnswer> {
  authorise(actor, 'imports.run');
  const run = await findImport(db(), actor.collectionId, id);
  if (run === null) throw notFound(say('This import'));
  const { header } = importSummary.parse(run.summary);
  const out = new PassThrough();
  writeErrorFile(readErrorRows(id), header, out).catch((error: Error) => out.destroy(error));
  return {
    body: Readable.toWeb(out) as ReadableStream<Uint8Array>,
    mediaType: 'text/csv; charset=utf-8',
    fileName: `${run.fileName.replace(/\.[^.]*$/, '')}-to-correct.csv`,
  };
}

async function* readErrorRows(runId: string): AsyncGenerator<DryRunRow> {
  for await (const row of readRows(runId, ['not-ready', 'failed'])) {
    yield {
      line: row.line,
      cells: row.cells as string[],
      values: {},
      warnings: [],
      errors: (row.errors as KeptError[]).map((error) => ({ ...error, fieldId: null, value: '' })),
    };
  }
}

/** The fields a column may be mapped to, in their order. */
export const listImportFields = () => IMPORT_FIELDS.map(({ id, label }) => ({ id, label }));

async function loadRecord(tx: Tx, actor: Actor, id: string): Promise<ImportRecord> {
  const run = await findImport(tx, actor.collectionId, id);
  if (run === null) throw notFound(say('This import'));
  const mapping = importMapping.safeParse(run.mapping);
  const state = run.state as ImportState;
  const made = await countRows(tx, id, 'made');
  const ended = ['done', 'cancelled', 'failed'].includes(state);
  const summary = importSummary.parse(run.summary);
  return {
    ...toRow(run, await namePerson(tx, run.startedById)),
    ...summary,
    mapping: mapping.success ? mapping.data : null,
    abilities: {
      check: state === 'uploaded' || state === 'checked',
      run: state === 'checked' && (summary.check?.ready ?? 0) > 0,
      cancel: state === 'running',
      undo: ended && made > 0 && may(actor, 'salvage.triage'),
      errors: (await countRows(tx, id, 'failed')) + (await countRows(tx, id, 'not-ready')) > 0,
    },
  };
}

const toRow = (run: FoundImport, startedBy: string): ImportRow => ({
  id: run.id,
  fileName: run.fileName,
  state: run.state as ImportState,
  rowsTotal: run.rowsTotal,
  rowsDone: run.rowsDone,
  rowsFailed: run.rowsFailed,
  createdAt: run.createdAt.toISOString(),
  startedBy,
});
