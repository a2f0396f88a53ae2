import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { dropHandedInFile, keepHandedInFile } from '@/lib/platform/handed-in';
import { may } from '@/lib/platform/permissions';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { inheritSensitivity, planCarryOver } from '../carry-over';
import { taxaEvents } from '../events';
import {
  countByRank,
  findChecklist,
  findChecklists,
  findCurrent,
  findKeptTaxa,
  findNamesInUse,
  insertChecklist,
  markSensitive,
  moveRecords,
  nameTaxa,
  switchCurrent,
} from '../repo/checklists';
import {
  type CarriedName,
  type ChecklistRecord,
  type ChecklistRow,
  type ChecklistUpload,
  LARGEST_CHECKLIST_BYTES,
  type MakeCurrentRequest,
} from '../schema';

export async function listChecklists(actor: Actor): Promise<{ rows: ChecklistRow[]; mayManage: boolean }> {
  authorise(actor, 'taxa.see');
  return { rows: (await findChecklists(db())).map(toRow), mayManage: may(actor, 'taxa.manage') };
}

export async function showChecklist(actor: Actor, id: string): Promise<ChecklistRecord> {
  authorise(actor, 'taxa.manage');
  return loadRecord(db(), actor, id);
}

/** Keeps a checklist file and has it read in the background. */
export async function handInChecklist(
  context: CommandContext,
  { fileName, ...words }: ChecklistUpload,
  body: ReadableStream<Uint8Array> | null,
): Promise<ChecklistRow> {
  const { actor } = context;
  authorise(actor, 'taxa.manage');
  const file = await keepHandedInFile(actor, { fileName, body, largestBytes: LARGEST_CHECKLIST_BYTES });
  try {
    return await withTx(context, async (work) => {
      const made = await insertChecklist(work.db, {
        ...words,
        fileName,
        fileId: file.id,
        bytesTotal: file.sizeBytes,
        state: 'reading',
        importedAt: work.now,
        importedById: personOf(actor),
      });
      work.audit(
        taxaEvents.make(
          'taxa.checklist-handed-in',
          { subjectType: 'checklist', subjectId: made.id },
          { name: words.name, edition: words.edition, fileName },
        ),
      );
      work.enqueue('taxa.read-checklist', {
        checklistId: made.id,
        actor: { personId: personOf(actor), name: actor.name, collectionId: actor.collectionId },
      });
      return toRow(made);
    });
  } catch (error) {
    await dropHandedInFile(db(), file.id);
    throw error;
  }
}

/**
 * Makes a checklist the current one and carries our birds' names over. Splits, lumps, losses and guesses need a
 * decision each. @throws AppError not-valid, naming every one that has none.
 */
export async function makeChecklistCurrent(
  context: CommandContext,
  id: string,
  request: MakeCurrentRequest,
): Promise<ChecklistRecord> {
  const { actor } = context;
  authorise(actor, 'taxa.manage');
  return withTx(context, async (work) => {
    const checklist = await findChecklist(work.db, id);
    if (checklist === null) throw notFound(say('This checklist'));
    if (checklist.state !== 'ready') throw conflict(say('This checklist has not been read whole.'));
    const replaced = await findCurrent(work.db);
    const carried = await planNames(work.db, id);
    const moves = await decide(work.db, id, carried, request);
    if (replaced !== null) await inherit(work.db, replaced.id, id);
    if ((await switchCurrent(work.db, id, work.now)) === 0)
      throw conflict(say('This checklist is the current one already.'));
    const birds = await carryNames(work, moves, `${checklist.name} ${checklist.edition}`);
    work.audit(
      taxaEvents.make(
        'taxa.checklist-made-current',
        { subjectType: 'checklist', subjectId: id, reason: request.reason },
        {
          name: checklist.name,
          edition: checklist.edition,
          replaced: replaced === null ? null : `${replaced.name} ${replaced.edition}`,
          names: countKinds(carried),
          birds,
        },
      ),
    );
    return loadRecord(work.db, actor, id);
  });
}

function countKinds(carried: readonly CarriedName[]): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const { kind } of carried) counts[kind] = (counts[kind] ?? 0) + 1;
  return counts;
}

async function inherit(tx: Tx, fromId: string, toId: string): Promise<void> {
  await markSensitive(tx, inheritSensitivity(await findKeptTaxa(tx, fromId), await findKeptTaxa(tx, toId)));
}

type Move = { from: CarriedName; toId: string; toName: string };

/** What each name in use becomes: by the plan where it is certain, else by the person's decision. */
async function decide(
  tx: Tx,
  checklistId: string,
  carried: readonly CarriedName[],
  { decisions }: MakeCurrentRequest,
): Promise<Move[]> {
  const decided = new Map(decisions.map(({ taxonId, newTaxonId }) => [taxonId, newTaxonId]));
  const chosen = await nameTaxa(
    tx,
    [...decided.values()].filter((newId) => newId !== null),
  );
  const ofNewList = new Map(
    chosen.flatMap((taxon) => (taxon.checklistId === checklistId ? [[taxon.id, taxon.scientificName]] : [])),
  );
  const problems = carried.flatMap((one) => {
    const say = (message: string) => [{ path: `decisions.${one.taxonId}`, message }];
    if (!one.asksPerson) return [];
    if (!decided.has(one.taxonId)) return say(`${one.name}: say what becomes of it. ${one.reason}`);
    const newId = decided.get(one.taxonId);
    return newId === null || ofNewList.has(newId ?? '')
      ? []
      : say(`${one.name}: the chosen name is not in this checklist.`);
  });
  if (problems.length > 0)
    throw notValid(say('The checklist was not changed; some names ask you.'), problems);
  return carried.flatMap((from): Move[] => {
    const [certain] = from.candidates;
    const toId = from.asksPerson ? decided.get(from.taxonId) : certain?.id;
    if (toId === null || toId === undefined) return [];
    return [{ from, toId, toName: from.asksPerson ? (ofNewList.get(toId) ?? '') : (certain?.name ?? '') }];
  });
}

/** Moves the records; a bird whose name reads differently now has it in its story. */
async function carryNames(work: Work, moves: readonly Move[], because: string): Promise<number> {
  let birds = 0;
  for (const { from, toId, toName } of moves) {
    const moved = await moveRecords(work.db, from.taxonId, toId);
    birds += moved.length;
    if (from.name === toName) continue;
    for (const bird of moved.filter((one) => one.collectionId === work.actor.collectionId)) {
      work.audit(
        taxaEvents.make(
          'taxa.name-carried',
          { subjectType: 'bird', subjectId: bird.id, birdId: bird.id },
          { from: from.name, to: toName, because },
        ),
      );
    }
  }
  return birds;
}

async function planNames(tx: Tx, checklistId: string): Promise<CarriedName[]> {
  const inUse = await findNamesInUse(tx, checklistId);
  if (inUse.length === 0) return [];
  const after = await findKeptTaxa(tx, checklistId);
  const plans = [];
  for (const oldId of new Set(inUse.map((name) => name.checklistId))) {
    const before = await findKeptTaxa(tx, oldId);
    plans.push(
      ...planCarryOver(
        before,
        after,
        inUse.filter((name) => name.checklistId === oldId),
      ),
    );
  }
  const names = new Map(
    (
      await nameTaxa(
        tx,
        plans.flatMap((one) => one.candidateIds),
      )
    ).map((one) => [one.id, one]),
  );
  const used = new Map(inUse.map((one) => [one.taxonId, one]));
  return plans.flatMap(({ candidateIds, ...plan }) => {
    const own = used.get(plan.taxonId);
    if (own === undefined) return [];
    return [
      {
        ...plan,
        name: own.name,
        commonName: own.commonName,
        birds: own.birds,
        candidates: candidateIds.flatMap((id) => {
          const taxon = names.get(id);
          return taxon === undefined
            ? []
            : [{ id, name: taxon.scientificName, commonName: taxon.commonName }];
        }),
      },
    ];
  });
}

async function loadRecord(tx: Tx, actor: Actor, id: string): Promise<ChecklistRecord> {
  const found = await findChecklist(tx, id);
  if (found === null) throw notFound(say('This checklist'));
  const asks = found.state === 'ready' && !found.current;
  const carried = asks ? await planNames(tx, id) : [];
  return {
    ...toRow(found),
    problems: found.problems as ChecklistRecord['problems'],
    taxa: await countByRank(tx, id),
    carried: carried.filter((one) => one.kind !== 'same'),
    sameNames: carried.filter((one) => one.kind === 'same').length,
    abilities: { makeCurrent: asks && may(actor, 'taxa.manage') },
  };
}

type Found = NonNullable<Awaited<ReturnType<typeof findChecklist>>>;

function toRow(row: Found): ChecklistRow {
  return {
    id: row.id,
    name: row.name,
    edition: row.edition,
    credit: row.credit,
    importedAt: row.importedAt.toISOString(),
    current: row.current,
    state: row.state as ChecklistRow['state'],
    progress: row.state === 'reading' && row.bytesTotal > 0 ? Math.min(1, row.bytesRead / row.bytesTotal) : 1,
    rowsRead: row.rowsRead,
    rowsLeftOut: row.rowsLeftOut,
    failure: row.failure,
  };
}
