import 'server-only';
import { z } from 'zod';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { dateColumn, dayOf } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { type FieldProblem, notFound, notValid, staleVersion } from '@/lib/platform/errors';
import { differences } from '@/lib/platform/events';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { permitEvents } from '../events';
import type { AmendPermitRequest, CreatePermitRequest, Permit } from '../permit-schema';
import {
  findMembers,
  findPermit,
  findPermitByNumber,
  findPermits,
  insertAmendment,
  insertPermit,
  type PermitRowFound,
  updatePermit,
} from '../repo/permits';
import { clausesOn } from '../rules/deadlines';
import type {
  CorrectPermitRequest,
  PermitListQuery,
  PermitRecord,
  PermitRow,
  PermitText,
  RenewPermitRequest,
} from '../wire';
import { ensureShippedPacks, tellLawChanged } from './law';
import { load, loadRecord, look, todayOf, toRow } from './permit-record';
import { textOf, toPermit } from './permit-shape';

/** The permits of the collection, the latest first, each with what it warns of. */
export async function listPermits(
  actor: Actor,
  query: PermitListQuery,
): Promise<{ rows: PermitRow[]; next: string | null }> {
  authorise(actor, 'permits.see');
  const found = await findPermits(actor.collectionId, query, await todayOf(db(), actor.collectionId));
  const { rows, next } = cutPage(found, query.size, (row) => writeCursor([dayOf(row.effectiveOn), row.id]));
  const seen = await look(db(), actor.collectionId, rows);
  return { rows: rows.map((row) => toRow(row, seen)), next };
}

export async function showPermit(actor: Actor, id: string): Promise<PermitRecord> {
  authorise(actor, 'permits.see');
  await ensureShippedPacks(actor.collectionId);
  return loadRecord(db(), actor, id);
}

/** Enters a permit. @throws AppError not-valid when its number is taken or a person is not of this collection. */
export async function createPermit(
  context: CommandContext,
  request: CreatePermitRequest,
): Promise<PermitRecord> {
  const { actor } = context;
  authorise(actor, 'permits.manage');
  return withTx(context, async (work) => {
    const id = await enterPermit(work, request);
    return loadRecord(work.db, actor, id);
  });
}

async function enterPermit(work: Work, request: CreatePermitRequest): Promise<string> {
  const { collectionId } = work.actor;
  const { number, authority, kind, jurisdiction, effectiveOn, expiresOn, renewsPermitId, holder } = request;
  const renewed = renewsPermitId === null ? null : await loadRenewed(work, renewsPermitId);
  const problems = await findPersonProblems(work, request);
  if ((await findPermitByNumber(work.db, collectionId, authority, number)) !== null) {
    problems.push({
      path: 'number',
      message: say('Permit {number} of {authority} has been entered already.', { number, authority }),
    });
  }
  if (problems.length > 0) throw notValid(say('The permit was not saved.'), problems);
  const { id } = await insertPermit(work.db, {
    collectionId,
    number,
    authority,
    kind,
    jurisdiction,
    holder: holder.name,
    holderPersonId: holder.personId,
    effectiveOn: dateColumn(effectiveOn),
    expiresOn: expiresOn === null ? null : dateColumn(expiresOn),
    clauses: request.clauses,
    subPermittees: request.subPermittees,
    replacesId: renewed?.id ?? null,
  });
  work.audit(
    permitEvents.make(
      'permits.created',
      { subjectType: 'permit', subjectId: id },
      { number, authority, kind, effectiveOn, expiresOn, renews: renewed?.number ?? null },
    ),
  );
  if (renewed !== null) {
    work.audit(
      permitEvents.make(
        'permits.renewed',
        { subjectType: 'permit', subjectId: renewed.id },
        { number: renewed.number, authority: renewed.authority, by: number },
      ),
    );
  }
  tellLawChanged(work, `permit ${number} was entered`);
  return id;
}

async function loadRenewed(work: Work, id: string): Promise<PermitRowFound> {
  const found = z.uuid().safeParse(id).success
    ? await findPermit(work.db, work.actor.collectionId, id)
    : null;
  if (found === null) throw notFound(say('The permit that this one renews'));
  return found;
}

/** People named by their account must belong to the collection. */
async function findPersonProblems(
  work: Work,
  named: { holder?: Permit['holder']; subPermittees?: Permit['subPermittees'] },
): Promise<FieldProblem[]> {
  const people = [
    ...(named.holder === undefined ? [] : [{ path: 'holder', person: named.holder }]),
    ...(named.subPermittees ?? []).map((person, index) => ({ path: `subPermittees.${index}`, person })),
  ];
  const ids = people.flatMap(({ person }) => person.personId ?? []);
  const members = await findMembers(
    work.db,
    work.actor.collectionId,
    ids.filter((id) => z.uuid().safeParse(id).success),
  );
  return people
    .filter(({ person }) => person.personId !== null && !members.has(person.personId))
    .map(({ path, person }) => ({
      path,
      message: say('{name} has no account in this collection.', { name: person.name }),
    }));
}

/**
 * Amends the terms of a permit from a day on. The text before is kept and still judges finds of earlier days.
 * @throws AppError stale-version with the permit as it stands now.
 */
export async function amendPermit(
  context: CommandContext,
  id: string,
  request: AmendPermitRequest,
): Promise<PermitRecord> {
  const { actor } = context;
  authorise(actor, 'permits.manage');
  return withTx(context, async (work) => {
    const row = await load(work.db, actor.collectionId, id);
    const before = textOf(row);
    const after: PermitText = {
      expiresOn: request.expiresOn === undefined ? before.expiresOn : request.expiresOn,
      subPermittees: request.subPermittees ?? before.subPermittees,
      clauses: request.clauses ?? before.clauses,
    };
    if (row.version !== request.version)
      throw staleVersion(say('This permit'), await loadRecord(work.db, actor, id));
    const problems = [
      ...findAmendmentProblems(row, request.effectiveOn, after),
      ...(await findPersonProblems(work, { subPermittees: after.subPermittees })),
    ];
    if (problems.length > 0) throw notValid(say('The permit was not amended.'), problems);
    const changed = await updatePermit(work.db, id, request.version, {
      expiresOn: after.expiresOn === null ? null : dateColumn(after.expiresOn),
      subPermittees: after.subPermittees,
      clauses: after.clauses,
    });
    if (changed === 0) throw staleVersion(say('This permit'), await loadRecord(work.db, actor, id));
    await insertAmendment(work.db, {
      permitId: id,
      version: request.version,
      effectiveOn: request.effectiveOn,
      before,
      reason: request.reason,
      amendedBy: personOf(actor),
    });
    work.audit(
      permitEvents.make(
        'permits.amended',
        { subjectType: 'permit', subjectId: id, reason: request.reason },
        {
          number: row.number,
          authority: row.authority,
          effectiveOn: request.effectiveOn,
          changes: differences(before, after),
        },
      ),
    );
    tellLawChanged(work, `permit ${row.number} was amended`);
    return loadRecord(work.db, actor, id);
  });
}

function findAmendmentProblems(row: PermitRowFound, effectiveOn: string, after: PermitText): FieldProblem[] {
  const starts = dayOf(row.effectiveOn);
  const last = row.amendments.at(-1);
  const problems: FieldProblem[] = [];
  if (effectiveOn < starts) {
    problems.push({
      path: 'effectiveOn',
      message: say('The permit itself takes effect on {starts}.', { starts }),
    });
  }
  if (last !== undefined && effectiveOn < dayOf(last.effectiveOn)) {
    const message = say('The last amendment holds from {dayOf}; this one cannot begin before it.', {
      dayOf: dayOf(last.effectiveOn),
    });
    problems.push({ path: 'effectiveOn', message });
  }
  if (after.expiresOn !== null && after.expiresOn < starts) {
    problems.push({ path: 'expiresOn', message: say('The permit would expire before it takes effect.') });
  }
  return problems;
}

/** Corrects what identifies a permit (a slip of the pen, not its terms). */
export async function correctPermit(
  context: CommandContext,
  id: string,
  { version, reason, ...wanted }: CorrectPermitRequest,
): Promise<PermitRecord> {
  const { actor } = context;
  authorise(actor, 'permits.manage');
  return withTx(context, async (work) => {
    const before = await loadRecord(work.db, actor, id);
    const { holder, effectiveOn, ...plain } = wanted;
    const problems = await findPersonProblems(work, { holder });
    const starts = effectiveOn ?? before.effectiveOn;
    if (before.expiresOn !== null && before.expiresOn < starts) {
      problems.push({ path: 'effectiveOn', message: say('The permit would take effect after it expires.') });
    }
    const twin = await findPermitByNumber(
      work.db,
      actor.collectionId,
      wanted.authority ?? before.authority,
      wanted.number ?? before.number,
    );
    if (twin !== null && twin.id !== id) {
      problems.push({ path: 'number', message: say('Another permit of this authority has this number.') });
    }
    if (problems.length > 0) throw notValid(say('The permit was not corrected.'), problems);
    const changed = await updatePermit(work.db, id, version, {
      ...plain,
      ...(holder === undefined ? {} : { holder: holder.name, holderPersonId: holder.personId }),
      ...(effectiveOn === undefined ? {} : { effectiveOn: dateColumn(effectiveOn) }),
    });
    if (changed === 0) throw staleVersion(say('This permit'), before);
    const compared = { ...plain, effectiveOn: starts, holder: holder?.name ?? before.holder };
    work.audit(
      permitEvents.make(
        'permits.corrected',
        { subjectType: 'permit', subjectId: id, reason },
        { number: before.number, authority: before.authority, changes: differences(before, compared) },
      ),
    );
    tellLawChanged(work, `permit ${before.number} was corrected`);
    return loadRecord(work.db, actor, id);
  });
}

/** Enters the permit that follows: same authority, terms and people, a new number and new dates. */
export async function renewPermit(
  context: CommandContext,
  id: string,
  { number, effectiveOn, expiresOn }: RenewPermitRequest,
): Promise<PermitRecord> {
  const { actor } = context;
  authorise(actor, 'permits.manage');
  return withTx(context, async (work) => {
    const row = await load(work.db, actor.collectionId, id);
    const old = toPermit(row);
    if (effectiveOn <= old.effectiveOn) {
      throw notValid(say('The permit was not renewed.'), [
        {
          path: 'effectiveOn',
          message: say('A renewal begins after {effectiveOn}, when the old one began.', {
            effectiveOn: old.effectiveOn,
          }),
        },
      ]);
    }
    const text = textOf(row);
    const made = await enterPermit(work, {
      number,
      authority: old.authority,
      kind: old.kind,
      jurisdiction: old.jurisdiction,
      effectiveOn,
      expiresOn,
      renewsPermitId: id,
      holder: old.holder,
      subPermittees: text.subPermittees
        .filter(({ untilOn }) => untilOn === null || untilOn >= effectiveOn)
        .map((person) => ({ ...person, fromOn: person.fromOn > effectiveOn ? person.fromOn : effectiveOn })),
      clauses: clausesOn(old, effectiveOn).filter(({ kind }) => kind !== 'grace'),
    });
    return loadRecord(work.db, actor, made);
  });
}
