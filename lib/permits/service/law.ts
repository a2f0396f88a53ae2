import 'server-only';
import { extent } from 'd3-array';
import { systemActor } from '@/lib/platform/actor';
import { dateColumn, dayOf } from '@/lib/platform/clock';
import { addDays } from '@/lib/platform/days';
import { db, type Tx } from '@/lib/platform/db';
import { AppError } from '@/lib/platform/errors';
import type { Work } from '@/lib/platform/tx';
import { withTx } from '@/lib/platform/tx';
import type { CoverageContext } from '../coverage-schema';
import { type StatusDecision, type TaxonList, taxonList } from '../coverage-schema';
import { permitEvents } from '../events';
import { type RulePack, rulePack } from '../pack-schema';
import { shippedRulePacks } from '../packs/load';
import type { Permit } from '../permit-schema';
import {
  findDecisions,
  findListRows,
  findLists,
  findPacks,
  insertPack,
  type ListFound,
  type PackFound,
} from '../repo/law';
import { findAllPermits, findCounted } from '../repo/permits';
import { findOverdueReports } from '../rules/overdue';
import { createProtectedStatus, type ProtectedStatus } from '../rules/status';
import { toTaxonFact } from '../rules/taxon-fact';
import { toPermit } from './permit-shape';

/** A row of a pack or of a list never changes once it is loaded, so what was parsed is kept by its id. */
const parsedPacks = new Map<string, RulePack>();
const parsedLists = new Map<string, TaxonList>();
const KEPT = 50;

function keep<T>(cache: Map<string, T>, id: string, value: T): T {
  if (cache.size >= KEPT) cache.clear();
  cache.set(id, value);
  return value;
}

export const packOf = (row: PackFound): RulePack =>
  parsedPacks.get(row.id) ?? keep(parsedPacks, row.id, rulePack.parse(row.content));

export type Confirmations = Record<string, { by: string; byId: string; at: string; note: string }>;
export const confirmationsOf = (row: PackFound): Confirmations => row.confirmations as Confirmations;

/** The newest active version of each key; rows come newest first within a key. */
export function packsInForce(rows: readonly PackFound[]): PackFound[] {
  const byKey = new Map<string, PackFound>();
  for (const row of rows) if (row.active && !byKey.has(row.key)) byKey.set(row.key, row);
  return [...byKey.values()];
}

/** The newest edition of each list. */
export function currentLists(rows: readonly ListFound[]): ListFound[] {
  const byKey = new Map<string, ListFound>();
  for (const row of rows) if (!byKey.has(row.key)) byKey.set(row.key, row);
  return [...byKey.values()];
}

/** Every entry of a pack, whatever it says. */
export const entriesOf = (pack: RulePack) => [
  ...pack.authorisations.map((entry) => ({ kind: 'authorisation' as const, ...entry })),
  ...pack.rules.map((entry) => ({ kind: 'rule' as const, ...entry })),
  ...pack.unprotected.map((entry) => ({ kind: 'unprotected' as const, ...entry })),
  ...pack.retention.map((entry) => ({ kind: 'retention' as const, ...entry })),
  ...pack.permitDefaults.map((entry) => ({ kind: 'permit-default' as const, ...entry })),
  ...pack.advice.map((entry) => ({ kind: 'advice' as const, ...entry })),
];

const sourceOf = (pack: RulePack) =>
  new Map(
    entriesOf(pack).map(({ id, text, cite, date, mark }) => [id, JSON.stringify([text, cite, date, mark])]),
  );

/** Loads a pack as a new version; confirmations stay where text, citation, date and mark are word for word the same. */
export async function addPack(work: Work, pack: RulePack, loadedById: string | null): Promise<string> {
  const { collectionId } = work.actor;
  const earlier = (await findPacks(work.db, collectionId)).find(({ key }) => key === pack.packId);
  const [before, after] = [earlier === undefined ? new Map() : sourceOf(packOf(earlier)), sourceOf(pack)];
  const kept = Object.fromEntries(
    Object.entries(earlier === undefined ? {} : confirmationsOf(earlier)).filter(
      ([id]) => before.get(id) === after.get(id),
    ),
  );
  const made = await insertPack(work.db, {
    collectionId,
    pack,
    confirmations: kept,
    loadedById,
    loadedAt: work.now,
  });
  work.audit(
    permitEvents.make(
      'permits.pack-loaded',
      { subjectType: 'rule-pack', subjectId: made.id },
      { pack: pack.title, version: pack.version, kept: Object.keys(kept) },
    ),
  );
  return made.id;
}

/** Loads the packs that ship with this version into a collection that has not seen them. Safe to call at any time. */
export async function ensureShippedPacks(collectionId: string): Promise<void> {
  const rows = await findPacks(db(), collectionId);
  const missing = shippedRulePacks().filter(
    (pack) => !rows.some((row) => row.key === pack.packId && row.version === pack.version),
  );
  if (missing.length === 0) return;
  try {
    await withTx({ actor: systemActor(collectionId) }, async (work) => {
      for (const pack of missing) await addPack(work, pack, null);
    });
  } catch (error) {
    // Another request loaded them at the same moment.
    if (!(error instanceof AppError) || error.code !== 'conflict') throw error;
  }
}

async function loadList(tx: Tx, row: ListFound): Promise<TaxonList> {
  const known = parsedLists.get(row.id);
  if (known !== undefined) return known;
  const entries = await findListRows(tx, row.id);
  return keep(
    parsedLists,
    row.id,
    taxonList.parse({
      listId: row.key,
      title: row.title,
      jurisdiction: row.jurisdiction,
      effect: row.effect,
      source: row.source,
      edition: row.edition,
      editionOn: dayOf(row.editionOn),
      entries: entries.map((entry) => ({
        name: entry.scientificName,
        englishName: entry.englishName,
        acceptedName: entry.acceptedName,
        match: entry.match,
        family: entry.familyName,
        order: entry.orderName,
      })),
    }),
  );
}

/** What the imported lists and the officers' decisions say of names, indexed. */
export async function loadProtectedStatus(tx: Tx, collectionId: string): Promise<ProtectedStatus> {
  const lists = currentLists(await findLists(tx, collectionId));
  const decisions = await findDecisions(tx, collectionId);
  const loaded: TaxonList[] = [];
  for (const row of lists) loaded.push(await loadList(tx, row));
  return createProtectedStatus(
    loaded,
    decisions.map(
      (row): StatusDecision => ({
        name: row.scientificName,
        jurisdiction: row.jurisdiction,
        status: 'unprotected',
        cite: row.cite,
        decidedOn: dayOf(row.decidedOn),
        decidedBy: row.decidedByName,
      }),
    ),
  );
}

export type CountedTake = CoverageContext['counted'][number] & { salvageId: string };

/** Everything a coverage check asks of a collection beside the find itself. */
export type CoverageSources = {
  permits: Permit[];
  packs: RulePack[];
  protectedStatus: ProtectedStatus;
  confirmedRuleIds: string[];
  overdueReports: CoverageContext['overdueReports'];
  /** Birds counted under permits that have a quota, in the years of the finds to be checked. */
  counted: CountedTake[];
};

const LONGEST_YEAR = 366;

/** Birds counted in a year that holds one of these days, whatever day a permit's year begins on. */
export async function loadCounted(
  tx: Tx,
  collectionId: string,
  permits: readonly Permit[],
  days: readonly string[],
): Promise<CountedTake[]> {
  const limited = permits.filter((one) =>
    [one.clauses, ...one.amendments.map(({ clauses }) => clauses)]
      .flat()
      .some(({ kind }) => kind === 'quota'),
  );
  const [first, last] = extent(days);
  if (limited.length === 0 || first === undefined || last === undefined) return [];
  const rows = await findCounted(
    tx,
    collectionId,
    limited.map(({ id }) => id),
    { from: dateColumn(addDays(first, -LONGEST_YEAR)), to: dateColumn(addDays(last, LONGEST_YEAR)) },
  );
  return rows.map((row) => ({
    salvageId: row.id,
    authorityId: row.permitId ?? '',
    taxon: toTaxonFact(row.taxon),
    foundOn: dayOf(row.foundTo),
    quantity: row.quantity,
  }));
}

/**
 * Loads permits, packs, lists and counts once, for any number of checks of birds found on these days.
 * @param today in the collection's time zone
 */
export async function loadCoverageSources(
  tx: Tx,
  collectionId: string,
  { today, found }: { today: string; found: readonly string[] },
): Promise<CoverageSources> {
  const rows = await findAllPermits(tx, collectionId);
  const permits = rows.map(toPermit);
  const packRows = packsInForce(await findPacks(tx, collectionId));
  return {
    permits,
    packs: packRows.map(packOf),
    protectedStatus: await loadProtectedStatus(tx, collectionId),
    confirmedRuleIds: packRows.flatMap((row) => Object.keys(confirmationsOf(row))),
    overdueReports: rows.flatMap((row) => overdueOf(row, today)),
    counted: await loadCounted(tx, collectionId, permits, found),
  };
}

/** Reports of a stored permit that were due and are not signed. */
export const overdueOf = (row: Parameters<typeof toPermit>[0], today: string) =>
  findOverdueReports(
    toPermit(row),
    today,
    dayOf(row.createdAt),
    row.reports.map(({ fromOn, toOn }) => ({ fromOn: dayOf(fromOn), untilOn: dayOf(toOn) })),
  );

/** Tells whoever keeps verdicts that what they were made from has changed; heard after the commit. */
export function tellLawChanged(work: Work, because: string): void {
  const { collectionId } = work.actor;
  work.enqueue('permits.law-changed', { collectionId, because }, { jobKey: `law-${collectionId}` });
}
