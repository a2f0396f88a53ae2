import 'server-only';
import type { Actor } from '@/lib/platform/actor';
import { dayIn, dayOf, now } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import { notFound } from '@/lib/platform/errors';
import { say } from '@/lib/platform/words/say';
import { legalCaution } from '../caution';
import { permitAbilitiesOf } from '../policy';
import { findPacks } from '../repo/law';
import { findCollection, findNames, findPermit, type PermitRowFound } from '../repo/permits';
import { clausesOn, countQuotaUse, listDeadlineWarnings, reviewPermitTerm } from '../rules/deadlines';
import type { ProtectedStatus } from '../rules/status';
import { type PermitRecord, type PermitRow, type PermitWarning, permitText } from '../wire';
import { type CountedTake, loadCounted, loadProtectedStatus, overdueOf, packOf, packsInForce } from './law';
import { standingOf, textOf, toPermit } from './permit-shape';

type Seen = { today: string; counted: CountedTake[]; status: ProtectedStatus };

export async function todayOf(tx: Tx, collectionId: string): Promise<string> {
  return dayIn((await findCollection(tx, collectionId)).timeZone, now());
}

export async function look(tx: Tx, collectionId: string, rows: readonly PermitRowFound[]): Promise<Seen> {
  const today = await todayOf(tx, collectionId);
  return {
    today,
    counted: await loadCounted(tx, collectionId, rows.map(toPermit), [today]),
    status: await loadProtectedStatus(tx, collectionId),
  };
}

export async function load(tx: Tx, collectionId: string, id: string): Promise<PermitRowFound> {
  const found = await findPermit(tx, collectionId, id);
  if (found === null) throw notFound(say('This permit'));
  return found;
}

export async function loadRecord(tx: Tx, actor: Actor, id: string): Promise<PermitRecord> {
  const row = await load(tx, actor.collectionId, id);
  const seen = await look(tx, actor.collectionId, [row]);
  const permit = toPermit(row);
  const names = await findNames(
    tx,
    row.amendments.map(({ amendedBy }) => amendedBy),
  );
  const packs = packsInForce(await findPacks(tx, actor.collectionId)).map(packOf);
  const text = textOf(row);
  return {
    ...toRow(row, seen),
    holderPersonId: row.holderPersonId,
    subPermittees: text.subPermittees,
    clauses: text.clauses,
    notes: row.notes,
    version: row.version,
    replaces: row.replaces,
    replacedBy: row.replacedBy,
    amendments: row.amendments.map((amendment) => ({
      version: amendment.version,
      effectiveOn: dayOf(amendment.effectiveOn),
      reason: amendment.reason,
      amendedAt: amendment.amendedAt.toISOString(),
      amendedBy: names.get(amendment.amendedBy) ?? say('somebody who left'),
      before: permitText.parse(amendment.before),
    })),
    quotas: clausesOn(permit, seen.today).flatMap((clause) =>
      clause.kind === 'quota'
        ? [
            {
              clauseId: clause.id,
              ...countQuotaUse(permit, clause, seen.today, seen.counted, seen.status.onList),
            },
          ]
        : [],
    ),
    remarks: reviewPermitTerm(permit, packs),
    caution: legalCaution,
    abilities: permitAbilitiesOf(actor),
  };
}

export function toRow(row: PermitRowFound, seen: Seen): PermitRow {
  return {
    id: row.id,
    number: row.number,
    authority: row.authority,
    kind: row.kind as PermitRow['kind'],
    jurisdiction: row.jurisdiction,
    holder: row.holder,
    effectiveOn: dayOf(row.effectiveOn),
    expiresOn: row.expiresOn === null ? null : dayOf(row.expiresOn),
    standing: standingOf(row, seen.today),
    birds: row._count.salvages,
    warnings: warningsOf(row, seen),
  };
}

/** What is due or used up. A renewed permit that ended needs no reminder of its end. */
function warningsOf(row: PermitRowFound, { today, counted, status }: Seen): PermitWarning[] {
  const overdue = overdueOf(row, today).map((report) => ({
    code: 'report-overdue',
    clauseId: report.clauseId,
    dueOn: report.dueOn,
    message: say('The report for {fromOn} to {untilOn} was due on {dueOn} and is not signed', {
      fromOn: report.fromOn,
      untilOn: report.untilOn,
      dueOn: report.dueOn,
    }),
  }));
  const ahead = listDeadlineWarnings(toPermit(row), today, counted, status.onList)
    .filter(({ code }) => !(code.startsWith('permit-expire') && row.replacedBy.length > 0))
    .map(({ permitId: _, ...warning }) => warning);
  return [...overdue, ...ahead];
}
