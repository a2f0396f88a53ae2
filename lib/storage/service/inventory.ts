import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, notFound } from '@/lib/platform/errors';
import { may } from '@/lib/platform/permissions';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { storageEvents } from '../events';
import { markFound, markMissing, moveMaterial } from '../materials';
import { formatPosition } from '../positions';
import { findCode } from '../repo/codes';
import {
  closeSession,
  findKnownScans,
  findOpenSession,
  findSession,
  findSessions,
  findUnitNames,
  holdOpen,
  insertScans,
  insertSession,
  type SessionRow,
} from '../repo/inventory';
import { findNames } from '../repo/occupants';
import { findInside } from '../repo/units';
import {
  type CountRecord,
  type CountRow,
  countRow,
  type ResolveRequest,
  type ScansRequest,
} from '../wire-inventory';
import { materialOf } from './codes';
import { type Count, holdAgainstBook, sayFinding, sayPlace } from './counting';
import { loadTree } from './tree';
import { positionOf, refused } from './unit-checks';

const FINDINGS_AT_MOST = 500;
const LAST_SCANS = 20;

/** Counts that run and the latest that were closed. */
export async function listCounts(actor: Actor): Promise<{ rows: CountRow[] }> {
  authorise(actor, 'storage.see');
  const sessions = await findSessions(db(), actor.collectionId);
  const names = await findNames(
    db(),
    sessions.map((session) => session.startedById),
  );
  const units = await findUnitNames(
    db(),
    sessions.map((session) => session.unitId),
  );
  const paths = new Map(units.map((unit) => [unit.id, unit.path]));
  return { rows: sessions.map((session) => toRow(session, paths.get(session.unitId) ?? '', names)) };
}

/** Begins to count a unit with all that stands in it; a count that runs there already is joined. */
export async function openCount(context: CommandContext, unitId: string): Promise<CountRecord> {
  const { actor } = context;
  authorise(actor, 'inventory.run');
  return withTx(context, async (work) => {
    const { wire } = await loadTree(work.db, actor.collectionId);
    const unit = wire.get(unitId);
    if (unit === undefined) throw notFound(say('This place in the store'));
    const running = await findOpenSession(work.db, unitId);
    if (running !== null) return describeCount(work.db, actor, running.id);
    const { collectionId } = actor;
    const startedById = personOf(actor);
    const made = await insertSession(work.db, { collectionId, unitId, startedById, startedAt: work.now });
    work.audit(
      storageEvents.make(
        'storage.count-opened',
        { subjectType: 'inventory-session', subjectId: made.id },
        { unit: unit.path },
      ),
    );
    return describeCount(work.db, actor, made.id);
  });
}

/** One count: how far it is and what it found so far. @throws AppError not-found */
export async function showCount(actor: Actor, id: string): Promise<CountRecord> {
  authorise(actor, 'storage.see');
  return describeCount(db(), actor, id);
}

/** Takes in what people read, in any order and as often as it is sent. */
export async function addScans(
  context: CommandContext,
  id: string,
  { scans }: ScansRequest,
): Promise<CountRecord> {
  const { actor } = context;
  authorise(actor, 'inventory.run');
  return withTx(context, async (work) => {
    const session = await loadSession(work.db, actor, id);
    const known = await findKnownScans(
      work.db,
      scans.map((scan) => scan.id),
    );
    const fresh = scans.flatMap((scan, at) => (known.has(scan.id) ? [] : [{ scan, at }]));
    if (fresh.length === 0) return describeCount(work.db, actor, id);
    if (!(await holdOpen(work.db, id)))
      throw conflict(say('This count is closed. Begin a new one for what is left.'));
    const { wire } = await loadTree(work.db, actor.collectionId);
    const scope = new Set(await findInside(work.db, session.unitId));
    const rows = [];
    for (const { scan, at } of fresh) {
      const unit = wire.get(scan.unitId);
      if (unit === undefined || !scope.has(scan.unitId)) {
        throw refused(`scans.${at}.unitId`, say('This box does not belong to what is being counted.'));
      }
      const index = unit.grid === null ? [] : positionOf(unit.grid, scan.position ?? null);
      if (scan.position && index[0] === undefined) {
        throw refused(
          `scans.${at}.position`,
          say('{name} has no position {position}.', { name: unit.name, position: scan.position }),
        );
      }
      const found = await findCode(work.db, actor.collectionId, scan.code);
      rows.push({
        ...scan,
        sessionId: id,
        materialId: found === null ? null : materialOf(found),
        position: unit.grid === null || index[0] === undefined ? null : formatPosition(unit.grid, index[0]),
        scannedById: personOf(actor),
        scannedAt: new Date(scan.scannedAt),
      });
    }
    const added = await insertScans(work.db, rows);
    work.audit(
      storageEvents.make(
        'storage.count-scanned',
        { subjectType: 'inventory-session', subjectId: id },
        { unit: wire.get(session.unitId)?.path ?? '', scans: added },
      ),
    );
    return describeCount(work.db, actor, id);
  });
}

/** Ends a count: from now on what was not read is missing. */
export async function closeCount(context: CommandContext, id: string): Promise<CountRecord> {
  const { actor } = context;
  authorise(actor, 'inventory.run');
  return withTx(context, async (work) => {
    const session = await loadSession(work.db, actor, id);
    const closed = { ...session, closedAt: work.now };
    const count = await holdAgainstBook(work.db, actor, closed);
    const { expected, confirmed, findings } = count.result;
    const number = (kind: string) => findings.filter((finding) => finding.kind === kind).length;
    const outcome = {
      expected,
      confirmed,
      missing: number('missing'),
      misplaced: number('misplaced'),
      unexpected: number('unexpected'),
      shared: number('two-in-one-position'),
    };
    const closedById = actor.personId;
    if ((await closeSession(work.db, id, { closedAt: work.now, closedById, outcome })) === 0) {
      throw conflict(say('Somebody else closed this count a moment ago.'));
    }
    work.audit(
      storageEvents.make(
        'storage.count-closed',
        { subjectType: 'inventory-session', subjectId: id },
        {
          unit: count.loaded.wire.get(session.unitId)?.path ?? '',
          expected,
          confirmed,
          findings: findings.length,
        },
      ),
    );
    return describeCount(work.db, actor, id);
  });
}

/** Puts the book right for one finding: books a material where it was found, or notes that it is missing. */
export async function resolveFinding(
  context: CommandContext,
  id: string,
  { materialId, act }: ResolveRequest,
): Promise<CountRecord> {
  const { actor } = context;
  authorise(actor, 'inventory.run');
  return withTx(context, async (work) => {
    const session = await loadSession(work.db, actor, id);
    const count = await holdAgainstBook(work.db, actor, session);
    const finding = count.result.findings.find(
      (one) => 'materialId' in one && one.materialId === materialId && one.resolution === act,
    );
    if (finding === undefined) throw conflict(say('This was put right already, or is no longer so.'));
    const reason = say('count of {name}', {
      name: count.loaded.wire.get(session.unitId)?.name ?? say('the store'),
    });
    if (finding.kind === 'missing') await markMissing(work, { materialId, reason });
    else if ('found' in finding) await bookWhereFound(work, count, materialId, finding.found, reason);
    return describeCount(work.db, actor, id);
  });
}

async function bookWhereFound(
  work: Work,
  { materials, loaded }: Count,
  materialId: string,
  found: { unitId: string; position: number | null },
  reason: string,
): Promise<void> {
  if (materials.get(materialId)?.custody === 'missing') await markFound(work, { materialId, reason });
  const grid = loaded.wire.get(found.unitId)?.grid ?? null;
  const position = grid === null || found.position === null ? null : formatPosition(grid, found.position);
  await moveMaterial(work, { materialId, to: { unitId: found.unitId, position }, reason });
}

async function loadSession(tx: Tx, actor: Actor, id: string): Promise<SessionRow> {
  const session = await findSession(tx, actor.collectionId, id);
  if (session === null) throw notFound(say('This count'));
  return session;
}

async function describeCount(tx: Tx, actor: Actor, id: string): Promise<CountRecord> {
  const session = await loadSession(tx, actor, id);
  const count = await holdAgainstBook(tx, actor, session);
  const { loaded, scans, unitIds, expectedIn, result } = count;
  const people = new Map<string, number>();
  for (const scan of scans) people.set(scan.scannedById, (people.get(scan.scannedById) ?? 0) + 1);
  const names = await findNames(tx, [session.startedById, ...people.keys()]);
  const unitOf = (unitId: string) => loaded.wire.get(unitId);
  return {
    ...toRow(session, unitOf(session.unitId)?.path ?? '', names),
    units: unitIds.flatMap((unitId) => {
      const unit = unitOf(unitId);
      if (unit === undefined) return [];
      const { name, code, path, kind, grid } = unit;
      return [{ id: unitId, name, code, path, kind, grid, expected: expectedIn.get(unitId) ?? 0 }];
    }),
    expected: result.expected,
    seen: result.seen,
    confirmed: result.confirmed,
    people: [...people].map(([personId, number]) => ({
      name: names.get(personId) ?? say('somebody'),
      scans: number,
    })),
    lastScans: scans
      .slice(-LAST_SCANS)
      .reverse()
      .map((scan) => {
        const grid = unitOf(scan.unitId)?.grid;
        const position = grid ? (positionOf(grid, scan.position)[0] ?? null) : null;
        return {
          id: scan.id,
          code: scan.code,
          place: sayPlace(loaded, scan.unitId, position),
          by: names.get(scan.scannedById) ?? say('somebody'),
          at: scan.scannedAt.toISOString(),
          known: scan.materialId !== null,
        };
      }),
    findings: result.findings.slice(0, FINDINGS_AT_MOST).map((finding) => sayFinding(count, finding)),
    moreFindings: Math.max(0, result.findings.length - FINDINGS_AT_MOST),
    abilities: {
      scan: session.closedAt === null && may(actor, 'inventory.run'),
      close: session.closedAt === null && may(actor, 'inventory.run'),
      resolve: may(actor, 'inventory.run'),
    },
  };
}

function toRow(session: SessionRow, unitPath: string, names: ReadonlyMap<string, string>): CountRow {
  return {
    id: session.id,
    unitId: session.unitId,
    unitPath,
    startedAt: session.startedAt.toISOString(),
    startedBy: names.get(session.startedById) ?? say('somebody who left'),
    closedAt: session.closedAt?.toISOString() ?? null,
    scans: session._count.scans,
    outcome: countRow.shape.outcome.parse(session.outcome),
  };
}
