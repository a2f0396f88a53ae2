import type { StatusDecision, TaxonFact, TaxonList } from '../coverage-schema';
import type { TaxonStatusWord } from '../schema';
import { type Answer, genusOf, matchName, namesOf, normaliseName, overCandidates } from './taxa';

type Entry = TaxonList['entries'][number];
type IndexedList = { list: TaxonList; byName: Map<string, Entry>; byGenus: Map<string, Entry[]> };

export type TaxonStatus = { status: TaxonStatusWord; basis: string };

/** The imported lists and decisions, indexed for look-up. Build it once with createProtectedStatus. */
export type ProtectedStatus = {
  statusOf: (taxon: TaxonFact, country: string | null) => TaxonStatus;
  onList: (listId: string, taxon: TaxonFact) => Answer | 'list-missing';
};

function indexList(list: TaxonList): IndexedList {
  const byName = new Map<string, Entry>();
  const byGenus = new Map<string, Entry[]>();
  for (const entry of list.entries) {
    for (const name of new Set([entry.name, entry.acceptedName ?? entry.name].map(normaliseName))) {
      byName.set(name, entry);
      const genus = genusOf(name);
      byGenus.set(genus, [...(byGenus.get(genus) ?? []), entry]);
    }
  }
  return { list, byName, byGenus };
}

function findEntry(index: IndexedList, names: string[]): Entry | undefined {
  for (const name of names) {
    const species = name.split(' ').slice(0, 2).join(' ');
    const entry = index.byName.get(name) ?? index.byName.get(species);
    if (entry) return entry;
  }
  return undefined;
}

function isOnList(index: IndexedList, taxon: TaxonFact): Answer {
  if (taxon.mayBe.length > 0) {
    return overCandidates(
      taxon.mayBe.map((name) => (findEntry(index, [normaliseName(name)]) ? 'yes' : 'no')),
    );
  }
  if (taxon.rank === 'species' || taxon.rank === 'subspecies') {
    if (findEntry(index, namesOf(taxon))) return 'yes';
    const below = namesOf(taxon).some((name) =>
      (index.byGenus.get(genusOf(name)) ?? []).some((entry) =>
        normaliseName(entry.name).startsWith(`${name} `),
      ),
    );
    return below ? 'unsure' : 'no';
  }
  if (taxon.rank === 'genus') return namesOf(taxon).some((name) => index.byGenus.has(name)) ? 'unsure' : 'no';
  return index.list.entries.some((entry) => matchName(taxon, entry) === 'unsure') ? 'unsure' : 'no';
}

function protectedBasis(index: IndexedList, taxon: TaxonFact): string {
  const entry = findEntry(index, namesOf(taxon));
  const where = `${index.list.title}, ${index.list.edition}`;
  if (!entry || namesOf(taxon).includes(normaliseName(entry.name))) return where;
  const how = entry.match === 'english-name' ? ', joined by English name: let a person confirm it' : '';
  return `${where}, listed there as ${entry.name}${how}`;
}

/**
 * Index the lists and decisions. A name on no list and in no decision is 'unresolved', never 'unprotected';
 * a bird not known to species is 'assumed-protected' while any listed bird is still possible.
 */
export function createProtectedStatus(lists: TaxonList[], decisions: StatusDecision[] = []): ProtectedStatus {
  const indexes = lists.map(indexList);
  const byId = new Map(indexes.map((index) => [index.list.listId, index]));
  return {
    onList: (listId, taxon) => {
      const index = byId.get(listId);
      return index ? isOnList(index, taxon) : 'list-missing';
    },
    statusOf: (taxon, country) => {
      const here = indexes.filter(
        ({ list }) => list.effect === 'protects' && list.jurisdiction.slice(0, 2) === country,
      );
      const answers = here.map((index) => ({ index, answer: isOnList(index, taxon) }));
      const listed = answers.find(({ answer }) => answer === 'yes');
      if (listed) return { status: 'protected', basis: protectedBasis(listed.index, taxon) };
      if (answers.some(({ answer }) => answer === 'unsure')) {
        return { status: 'assumed-protected', basis: 'not identified far enough; a listed bird is possible' };
      }
      const decision = decisions.find(
        (entry) => entry.jurisdiction.slice(0, 2) === country && matchName(taxon, entry) === 'yes',
      );
      if (decision) {
        const by = `${decision.cite}, decided ${decision.decidedOn} by ${decision.decidedBy}`;
        return { status: 'unprotected', basis: by };
      }
      return { status: 'unresolved', basis: 'the name is on no imported list and in no decision' };
    },
  };
}
