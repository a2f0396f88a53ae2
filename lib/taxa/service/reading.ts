import 'server-only';
import { createReadStream } from 'node:fs';
import path from 'node:path';
import { type Readable, Transform } from 'node:stream';
import type { CommandContext } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { dropHandedInFile, openHandedInFile } from '@/lib/platform/handed-in';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { inheritSensitivity } from '../carry-over';
import { type ChecklistProblem, type ChecklistTaxon, readChecklist } from '../checklist';
import { taxaEvents } from '../events';
import {
  clearTaxa,
  endReading,
  findChecklist,
  findCurrent,
  findKeptTaxa,
  insertChecklist,
  insertTaxa,
  markSensitive,
  noteProgress,
  switchCurrent,
} from '../repo/checklists';

const BATCH_ROWS = 1000;
const PROBLEMS_KEPT = 100;

type Filled = { taxa: number; leftOut: number; problems: ChecklistProblem[] };

/**
 * Reads a checklist file that was handed in. Its rows are written as they come and seen by nobody until the last one
 * is there; a second try begins anew. What is wrong with the file ends it with a sentence for the person.
 */
export async function readHandedInChecklist(context: CommandContext, checklistId: string): Promise<void> {
  const checklist = await findChecklist(db(), checklistId);
  if (checklist === null || checklist.state !== 'reading' || checklist.fileId === null) return;
  const { fileId, name, edition } = checklist;
  await clearTaxa(db(), checklistId);
  let filled: Filled;
  try {
    const progress = { bytesRead: 0 };
    const counted = openHandedInFile(fileId).pipe(countBytes(progress));
    filled = await fillChecklist(
      db(),
      checklistId,
      counted,
      await findDelimiter(fileId),
      (rowsRead, rowsLeftOut) =>
        noteProgress(checklistId, { bytesRead: progress.bytesRead, rowsRead, rowsLeftOut }),
    );
    if (filled.taxa === 0) throw new Error('The file names no taxon.');
  } catch (error) {
    const failure = error instanceof Error ? error.message : String(error);
    await clearTaxa(db(), checklistId);
    return withTx(context, async (work) => {
      await endReading(work.db, checklistId, { state: 'failed', failure });
      await dropHandedInFile(work.db, fileId);
      work.audit(
        taxaEvents.make(
          'taxa.checklist-failed',
          { subjectType: 'checklist', subjectId: checklistId },
          { name, edition, failure },
        ),
      );
    });
  }
  await withTx(context, async (work) => {
    await carrySensitivity(work.db, checklistId);
    await endReading(work.db, checklistId, {
      state: 'ready',
      rowsRead: filled.taxa,
      rowsLeftOut: filled.leftOut,
      problems: filled.problems,
    });
    await dropHandedInFile(work.db, fileId);
    work.audit(
      taxaEvents.make(
        'taxa.checklist-read',
        { subjectType: 'checklist', subjectId: checklistId },
        { name, edition, taxa: filled.taxa, leftOut: filled.leftOut },
      ),
    );
  });
}

/**
 * Loads the checklist that ships and makes it the current one, where there is none yet; answers whether it did. For the
 * first set-up and the demo scenario.
 */
export async function loadStarterChecklist(work: Work): Promise<boolean> {
  if ((await findCurrent(work.db)) !== null) return false;
  const checklist = await insertChecklist(work.db, {
    name: say('Starter checklist'),
    edition: '1',
    credit: say('Furcula; names compared with AviList v2025 (CC BY 4.0). See seed/checklist/README.md.'),
    fileName: 'starter.csv',
    importedAt: work.now,
  });
  const file = path.join(process.cwd(), 'seed', 'checklist', 'starter.csv');
  const { taxa, leftOut } = await fillChecklist(work.db, checklist.id, createReadStream(file), ',');
  await switchCurrent(work.db, checklist.id, work.now);
  work.audit(
    taxaEvents.make(
      'taxa.checklist-made-current',
      { subjectType: 'checklist', subjectId: checklist.id },
      { name: checklist.name, edition: '1', replaced: null, names: { read: taxa, leftOut }, birds: 0 },
    ),
  );
  return true;
}

function countBytes(progress: { bytesRead: number }): Transform {
  return new Transform({
    transform(chunk: Buffer, _encoding, done) {
      progress.bytesRead += chunk.length;
      done(null, chunk);
    },
  });
}

/** Tabs or commas: whichever the first line that is no comment has more of. */
async function findDelimiter(fileId: string): Promise<',' | '\t'> {
  for await (const piece of openHandedInFile(fileId) as AsyncIterable<Buffer>) {
    const header = piece
      .toString('utf8')
      .split('\n')
      .find((line) => line.trim() !== '' && !line.startsWith('#'));
    return (header ?? '').split('\t').length > (header ?? '').split(',').length ? '\t' : ',';
  }
  return ',';
}

/** Accepted names are written batch by batch; synonyms wait until all of them are there to point to. */
async function fillChecklist(
  tx: Tx,
  checklistId: string,
  source: Readable,
  delimiter: ',' | '\t',
  onProgress: (rowsRead: number, rowsLeftOut: number) => Promise<unknown> = async () => undefined,
): Promise<Filled> {
  const problems: ChecklistProblem[] = [];
  const idOf = new Map<string, string>();
  const names = new Set<string>();
  const synonyms: ChecklistTaxon[] = [];
  let waiting: (ChecklistTaxon & { acceptedId: string | null; sortOrder: number })[] = [];
  let [taxa, leftOut, order] = [0, 0, 0];
  const leaveOut = (line: number, reason: string) => {
    leftOut += 1;
    if (problems.length < PROBLEMS_KEPT) problems.push({ line, reason });
  };
  const flush = async () => {
    for (const row of await insertTaxa(tx, checklistId, waiting)) {
      idOf.set(row.scientificName, row.id);
      if (row.sourceKey !== null) idOf.set(row.sourceKey, row.id);
    }
    taxa += waiting.length;
    waiting = [];
    await onProgress(taxa, leftOut);
  };
  const keep = async (taxon: ChecklistTaxon, acceptedId: string | null) => {
    if (names.has(taxon.scientificName))
      return leaveOut(
        taxon.line,
        say('The name {scientificName} stands in the list twice.', { scientificName: taxon.scientificName }),
      );
    names.add(taxon.scientificName);
    waiting.push({ ...taxon, acceptedId, sortOrder: order++ });
    if (waiting.length >= BATCH_ROWS) await flush();
  };
  for await (const row of readChecklist(source, delimiter)) {
    if (!row.ok) leaveOut(row.line, row.reason);
    else if (row.taxon.status === 'synonym') synonyms.push(row.taxon);
    else await keep(row.taxon, null);
  }
  if (waiting.length > 0) await flush();
  for (const synonym of synonyms) {
    const acceptedId = idOf.get(synonym.acceptedId ?? '') ?? idOf.get(synonym.acceptedName ?? '');
    if (acceptedId === undefined)
      leaveOut(
        synonym.line,
        say('The accepted name of {scientificName} is not in the list.', {
          scientificName: synonym.scientificName,
        }),
      );
    else await keep(synonym, acceptedId);
  }
  if (waiting.length > 0) await flush();
  return { taxa, leftOut, problems };
}

/** What was protected under its old name is protected under the new one. */
async function carrySensitivity(tx: Tx, checklistId: string): Promise<void> {
  const current = await findCurrent(tx);
  if (current === null || current.id === checklistId) return;
  const before = await findKeptTaxa(tx, current.id);
  const after = await findKeptTaxa(tx, checklistId);
  await markSensitive(tx, inheritSensitivity(before, after));
}
