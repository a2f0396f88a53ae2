import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { dateColumn, dayIn, dayOf } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { permitEvents } from '../events';
import type { Condition } from '../pack-schema';
import { permitAbilitiesOf } from '../policy';
import {
  findChecklistNames,
  findDecision,
  findDecisions,
  findEdition,
  findLists,
  findPacks,
  insertDecision,
  insertList,
  type ListFound,
  withdrawDecision,
} from '../repo/law';
import { findCollection } from '../repo/permits';
import { joinChecklist } from '../rules/join-checklist';
import { type ListImport, parseProtectedList } from '../rules/protected-list';
import { normaliseName } from '../rules/taxa';
import type { DecisionRequest, DecisionRow, ImportListRequest, StatusListRow } from '../wire';
import { currentLists, ensureShippedPacks, packOf, packsInForce, tellLawChanged } from './law';

/** The imported lists, with the names nobody could join to the checklist, and the lists that rules ask for in vain. */
export async function listStatusLists(actor: Actor) {
  authorise(actor, 'permits.see');
  await ensureShippedPacks(actor.collectionId);
  const found = await findLists(db(), actor.collectionId);
  const asked = packsInForce(await findPacks(db(), actor.collectionId))
    .map(packOf)
    .flatMap((pack) =>
      [...pack.protectedListIds, ...pack.rules.flatMap((rule) => rule.when.flatMap(listIdsOf))].map(
        (listId) => ({
          listId,
          askedBy: pack.title,
        }),
      ),
    );
  const unique = new Map(asked.map((list) => [list.listId, list]));
  const current = new Set(currentLists(found).map(({ id }) => id));
  return {
    rows: found.map((row) => toRow(row, current.has(row.id))),
    missing: [...unique.values()].filter(({ listId }) => !found.some(({ key }) => key === listId)),
    abilities: permitAbilitiesOf(actor),
  };
}

function listIdsOf(condition: Condition): string[] {
  switch (condition.kind) {
    case 'on-list':
      return [condition.listId];
    case 'taxon':
      return condition.taxa.flatMap((selector) => (selector.by === 'list' ? [selector.listId] : []));
    case 'all-of':
    case 'any-of':
    case 'none-of':
      return condition.conditions.flatMap(listIdsOf);
    default:
      return [];
  }
}

/**
 * Imports an edition of a list from CSV text. Rows that cannot be read are left out and named; the names that match
 * nothing in the checklist are shown until somebody decides them.
 * @throws AppError not-valid for another file; conflict when the edition is here already.
 */
export async function importStatusList(context: CommandContext, request: ImportListRequest) {
  const { actor } = context;
  authorise(actor, 'permits.manage');
  const read = readList(request);
  return withTx(context, async (work) => {
    const { collectionId } = actor;
    if ((await findEdition(work.db, collectionId, request.listId, request.edition)) !== null) {
      throw conflict(
        say('The edition "{edition}" of {listId} has been imported already.', {
          edition: request.edition,
          listId: request.listId,
        }),
      );
    }
    const entries = joinChecklist(read.list.entries, await findChecklistNames(work.db));
    const id = await insertList(work.db, {
      collectionId,
      list: { ...read.list, entries },
      credit: request.credit,
      loadedById: personOf(actor),
      loadedAt: work.now,
    });
    work.audit(
      permitEvents.make(
        'permits.list-imported',
        { subjectType: 'status-list', subjectId: id },
        {
          list: request.listId,
          edition: request.edition,
          names: entries.length,
          unresolved: entries.filter(({ match }) => match === 'none').length,
          leftOut: read.errors.length,
        },
      ),
    );
    tellLawChanged(work, `list ${request.listId} was imported`);
    const found = await findLists(work.db, collectionId);
    const made = found.find((row) => row.id === id);
    if (made === undefined) throw notFound(say('The imported list'));
    return { list: toRow(made, currentLists(found).includes(made)), errors: read.errors };
  });
}

function readList({ csv, credit: _, ...source }: ImportListRequest): ListImport {
  let read: ListImport;
  try {
    read = parseProtectedList(csv, source);
  } catch (error) {
    const message = error instanceof Error ? error.message : say('The file cannot be read.');
    throw notValid(say('The list was not imported.'), [{ path: 'csv', message }]);
  }
  if (read.list.entries.length === 0) {
    throw notValid(say('The list was not imported.'), [
      { path: 'csv', message: say('No name could be read from the file.') },
    ]);
  }
  return read;
}

function toRow(row: ListFound, current: boolean): StatusListRow {
  return {
    id: row.id,
    listId: row.key,
    title: row.title,
    jurisdiction: row.jurisdiction,
    effect: row.effect as StatusListRow['effect'],
    source: row.source,
    edition: row.edition,
    editionOn: dayOf(row.editionOn),
    credit: row.credit,
    loadedAt: row.loadedAt.toISOString(),
    current,
    names: row._count.rows,
    unresolved: row.rows.map(({ scientificName, englishName }) => ({ name: scientificName, englishName })),
  };
}

/** The decisions that stand on names no list answers. */
export async function listDecisions(
  actor: Actor,
): Promise<{ rows: DecisionRow[]; abilities: { manage: boolean; rule: boolean } }> {
  authorise(actor, 'permits.see');
  const rows = await findDecisions(db(), actor.collectionId);
  return { rows: rows.map(toDecision), abilities: permitAbilitiesOf(actor) };
}

/** An officer decides, with a citation, that a name on no list is not protected in a jurisdiction. */
export async function decideStatus(
  context: CommandContext,
  { name, jurisdiction, cite, reason }: DecisionRequest,
): Promise<DecisionRow> {
  const { actor } = context;
  authorise(actor, 'coverage.rule');
  return withTx(context, async (work) => {
    const standing = await findDecisions(work.db, actor.collectionId);
    const same = standing.find(
      (row) => row.jurisdiction === jurisdiction && normaliseName(row.scientificName) === normaliseName(name),
    );
    if (same !== undefined)
      throw conflict(
        say('{name} was decided on {dayOf}. Withdraw that first.', { name, dayOf: dayOf(same.decidedOn) }),
      );
    const { timeZone } = await findCollection(work.db, actor.collectionId);
    const made = await insertDecision(work.db, {
      collectionId: actor.collectionId,
      scientificName: name,
      jurisdiction,
      cite,
      decidedOn: dateColumn(dayIn(timeZone, work.now)),
      decidedById: personOf(actor),
      decidedByName: actor.name,
    });
    work.audit(
      permitEvents.make(
        'permits.status-decided',
        { subjectType: 'status-decision', subjectId: made.id, reason },
        { name, jurisdiction, status: made.status, cite },
      ),
    );
    tellLawChanged(work, `the status of ${name} was decided`);
    return toDecision(made);
  });
}

/** Withdraws a decision: the name is unresolved again. */
export async function withdrawStatusDecision(
  context: CommandContext,
  id: string,
  { reason }: { reason: string },
): Promise<DecisionRow> {
  const { actor } = context;
  authorise(actor, 'coverage.rule');
  return withTx(context, async (work) => {
    const row = await findDecision(work.db, actor.collectionId, id);
    if (row === null) throw notFound(say('This decision'));
    if ((await withdrawDecision(work.db, id, work.now, personOf(actor))) === 0) {
      throw conflict(say('This decision was withdrawn already.'));
    }
    work.audit(
      permitEvents.make(
        'permits.decision-withdrawn',
        { subjectType: 'status-decision', subjectId: id, reason },
        { name: row.scientificName, jurisdiction: row.jurisdiction },
      ),
    );
    tellLawChanged(work, `the decision on ${row.scientificName} was withdrawn`);
    return toDecision(row);
  });
}

type DecisionFound = Awaited<ReturnType<typeof findDecisions>>[number];

const toDecision = (row: DecisionFound): DecisionRow => ({
  id: row.id,
  name: row.scientificName,
  jurisdiction: row.jurisdiction,
  status: row.status,
  cite: row.cite,
  decidedOn: dayOf(row.decidedOn),
  decidedBy: row.decidedByName,
});
