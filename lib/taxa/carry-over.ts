import { say } from '@/lib/platform/words/say';
import type { ChecklistTaxon } from './checklist';
import { type ChecklistChange, diffChecklists } from './checklist-diff';

/** A taxon as it is kept, as far as two checklists are compared by it. */
export interface KeptTaxon {
  id: string;
  sourceKey: string | null;
  scientificName: string;
  rank: string;
  familyName: string | null;
  acceptedId: string | null;
}

export interface NameInUse {
  taxonId: string;
  name: string;
  rank: string;
}

export interface CarryOver {
  taxonId: string;
  kind: ChecklistChange['kind'];
  asksPerson: boolean;
  reason: string;
  /** Ids in the new checklist; exactly one when nobody is asked. */
  candidateIds: string[];
}

function toChecklistTaxon(taxon: KeptTaxon, byId: ReadonlyMap<string, KeptTaxon>): ChecklistTaxon {
  const accepted = taxon.acceptedId === null ? undefined : byId.get(taxon.acceptedId);
  return {
    taxonId: taxon.sourceKey ?? `${taxon.rank}:${taxon.scientificName}`,
    scientificName: taxon.scientificName,
    authorship: null,
    rank: taxon.rank,
    status: taxon.acceptedId === null ? 'accepted' : 'synonym',
    acceptedName: accepted?.scientificName ?? null,
    acceptedId: null,
    order: null,
    family: taxon.familyName,
    vernacularName: null,
    sensitive: false,
    contactFirst: false,
    eagle: false,
    introducedUnprotected: false,
    iucnCategory: null,
    line: 0,
  };
}

function readable(taxa: readonly KeptTaxon[]): ChecklistTaxon[] {
  const byId = new Map(taxa.map((taxon) => [taxon.id, taxon]));
  return taxa.map((taxon) => toChecklistTaxon(taxon, byId));
}

/**
 * What becomes of the names in use when `after` takes the place of `before`. Species are compared as
 * `diffChecklists` does; a name of any other rank is carried over when the new list has it, and asks a person when not.
 */
export function planCarryOver(
  before: readonly KeptTaxon[],
  after: readonly KeptTaxon[],
  inUse: readonly NameInUse[],
): CarryOver[] {
  const diff = diffChecklists(readable(before), readable(after));
  const changes = new Map(diff.changes.map((change) => [change.oldName, change]));
  const accepted = new Map(
    after.flatMap((taxon) => (taxon.acceptedId === null ? [[taxon.scientificName, taxon.id] as const] : [])),
  );
  const byOldId = new Map(before.map((taxon) => [taxon.id, taxon]));
  return inUse.map(({ taxonId, name, rank }): CarryOver => {
    const own = byOldId.get(taxonId);
    const acceptedName = own?.acceptedId == null ? name : byOldId.get(own.acceptedId)?.scientificName;
    const change = rank === 'species' && acceptedName !== undefined ? changes.get(acceptedName) : undefined;
    if (change !== undefined) {
      const candidateIds = change.newNames.flatMap((newName) => accepted.get(newName) ?? []);
      const certain = !change.asksPerson && candidateIds.length === 1;
      return { taxonId, kind: change.kind, asksPerson: !certain, reason: change.reason, candidateIds };
    }
    const same = accepted.get(name);
    return same === undefined
      ? {
          taxonId,
          kind: 'missing',
          asksPerson: true,
          reason: say('The new list has no such name.'),
          candidateIds: [],
        }
      : {
          taxonId,
          kind: 'same',
          asksPerson: false,
          reason: say('The name is the same.'),
          candidateIds: [same],
        };
  });
}

/** New taxa that must stay protected because what they were called before was; all heirs of a split are. */
export function inheritSensitivity(
  before: readonly (KeptTaxon & { sensitive: boolean })[],
  after: readonly KeptTaxon[],
): string[] {
  const sensitive = before.filter((taxon) => taxon.sensitive);
  const plan = planCarryOver(
    before,
    after,
    sensitive.map((taxon) => ({ taxonId: taxon.id, name: taxon.scientificName, rank: taxon.rank })),
  );
  return [...new Set(plan.flatMap((one) => one.candidateIds))];
}
