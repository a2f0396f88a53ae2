import 'server-only';
import { type Actor, authorise, type CommandContext } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, notFound } from '@/lib/platform/errors';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { taxaEvents } from '../events';
import {
  findByNames,
  findFamilies,
  findTaxa,
  findTaxonRecord,
  searchNames,
  setSensitive,
} from '../repo/taxa';
import type { SensitivityChange, TaxonListQuery, TaxonRecord, TaxonRow, TaxonSearchQuery } from '../schema';
import type { TaxonChoice } from '../wire-choice';

/** Taxa of the current checklist whose name is like the text; synonyms lead to the accepted taxon. */
export async function searchTaxa(
  actor: Actor,
  { q, size }: TaxonSearchQuery,
): Promise<{ rows: TaxonChoice[] }> {
  authorise(actor, 'taxa.see');
  return { rows: await searchNames(db(), q, size) };
}

export async function listTaxa(
  actor: Actor,
  query: TaxonListQuery,
): Promise<{ rows: TaxonRow[]; next: string | null }> {
  authorise(actor, 'taxa.see');
  const { rows, next } = cutPage(await findTaxa(db(), actor.collectionId, query), query.size, (row) =>
    writeCursor([row.sortOrder, row.id]),
  );
  return { rows: rows.map((row) => toRow(row, actor)), next };
}

export async function listFamilies(actor: Actor): Promise<{ rows: string[] }> {
  authorise(actor, 'taxa.see');
  return { rows: (await findFamilies(db())).map((row) => row.familyName) };
}

export async function showTaxon(actor: Actor, id: string): Promise<TaxonRecord> {
  authorise(actor, 'taxa.see');
  return loadRecord(db(), actor, id);
}

/** Marks a taxon whose exact places are to be generalised, or takes the mark away. */
export async function changeSensitivity(
  context: CommandContext,
  id: string,
  { sensitive, reason }: SensitivityChange,
): Promise<TaxonRecord> {
  const { actor } = context;
  authorise(actor, 'taxa.manage');
  return withTx(context, async (work) => {
    const before = await loadRecord(work.db, actor, id);
    if ((await setSensitive(work.db, id, sensitive)) === 0)
      throw conflict(
        sensitive
          ? say('{name} is already marked as sensitive.', { name: before.scientificName })
          : say('{name} is not marked as sensitive.', { name: before.scientificName }),
      );
    work.audit(
      taxaEvents.make(
        'taxa.sensitivity-changed',
        { subjectType: 'taxon', subjectId: id, reason },
        {
          taxon: before.scientificName,
          changes: { sensitive: { from: before.sensitive, to: sensitive } },
        },
      ),
    );
    return loadRecord(work.db, actor, id);
  });
}

export type FoundTaxon = { id: string; scientificName: string; rank: string; sensitive: boolean };

/**
 * The accepted taxon for each name, scientific or English, synonyms included, without regard to case; names that the
 * current checklist does not have are missing from the answer. Keys are the names as given.
 */
export async function findTaxaByNames(
  tx: Tx,
  names: readonly string[],
): Promise<ReadonlyMap<string, FoundTaxon>> {
  const found = new Map((await findByNames(tx, names)).map(({ asked, ...taxon }) => [asked, taxon]));
  return new Map(
    names.flatMap((name) => {
      const taxon = found.get(name.toLowerCase());
      return taxon === undefined ? [] : [[name, taxon] as const];
    }),
  );
}

async function loadRecord(tx: Tx, actor: Actor, id: string): Promise<TaxonRecord> {
  const found = await findTaxonRecord(tx, actor.collectionId, id);
  if (found === null) throw notFound(say('This taxon'));
  const { checklist } = found;
  return {
    ...toRow(found, actor),
    authorship: found.authorship,
    genus: found.genus,
    acceptedId: found.acceptedId,
    checklist: {
      id: checklist.id,
      name: checklist.name,
      edition: checklist.edition,
      current: checklist.current,
    },
    synonyms: found.synonyms.map(({ id: synonymId, scientificName }) => ({ id: synonymId, scientificName })),
    abilities: { manage: may(actor, 'taxa.manage'), history: may(actor, 'audit.see') },
  };
}

type FoundRow = Awaited<ReturnType<typeof findTaxa>>[number];

/** How many birds there are is for those who may see birds that are not approved yet. */
function toRow(row: Omit<FoundRow, 'checklist'>, actor: Actor): TaxonRow {
  return {
    id: row.id,
    scientificName: row.scientificName,
    commonName: row.commonName,
    rank: row.rank,
    orderName: row.orderName,
    familyName: row.familyName,
    sensitive: row.sensitive,
    acceptedName: row.accepted?.scientificName ?? null,
    birds: may(actor, 'salvage.see') ? row._count.birds : 0,
  };
}
