import { say } from '@/lib/platform/words/say';
import type { ChecklistTaxon } from '@/lib/taxa/checklist';
import { parseScientificName } from '@/lib/taxa/names';

export interface ChecklistChange {
  /** Accepted species of the old list. */
  oldName: string;
  kind: 'same' | 'renamed' | 'split' | 'lumped' | 'missing';
  /** Where its birds may belong in the new list; several for a split. */
  newNames: string[];
  /** A split, a lump, a guess or a loss is decided by a person; the others can be carried over. */
  asksPerson: boolean;
  reason: string;
}

export interface ChecklistDiff {
  changes: ChecklistChange[];
  /** Accepted species of the new list that the old one has under no name. */
  added: string[];
}

interface Index {
  species: Map<string, ChecklistTaxon>;
  /** Old subspecies and new ones: the name to its species. */
  speciesOfSubspecies: Map<string, string>;
  acceptedOfSynonym: Map<string, string>;
  byId: Map<string, ChecklistTaxon>;
  /** Epithet (without its gender ending) and family to the species that carry them. */
  byEpithet: Map<string, string[]>;
}

/** Latin endings that change with the gender of the genus: -us, -a, -um; -is, -e. */
function stemOf(epithet: string): string {
  return epithet.replace(/(?:us|um|a|is|e|er|ra)$/, '');
}

function epithetKey(epithet: string, family: string | null): string {
  return `${family ?? ''}/${stemOf(epithet)}`;
}

function indexChecklist(taxa: Iterable<ChecklistTaxon>): Index {
  const index: Index = {
    species: new Map(),
    speciesOfSubspecies: new Map(),
    acceptedOfSynonym: new Map(),
    byId: new Map(),
    byEpithet: new Map(),
  };
  const synonyms: ChecklistTaxon[] = [];
  for (const taxon of taxa) {
    index.byId.set(taxon.taxonId, taxon);
    if (taxon.status === 'synonym') synonyms.push(taxon);
    else if (taxon.rank === 'species') {
      index.species.set(taxon.scientificName, taxon);
      const epithet = parseScientificName(taxon.scientificName).specificEpithet;
      if (epithet) {
        const key = epithetKey(epithet, taxon.family);
        index.byEpithet.set(key, [...(index.byEpithet.get(key) ?? []), taxon.scientificName]);
      }
    } else if (taxon.rank === 'subspecies') {
      const [genus, epithet] = taxon.scientificName.split(' ');
      index.speciesOfSubspecies.set(taxon.scientificName, `${genus} ${epithet}`);
    }
  }
  for (const taxon of synonyms) {
    const accepted = taxon.acceptedName ?? index.byId.get(taxon.acceptedId ?? '')?.scientificName;
    if (accepted) index.acceptedOfSynonym.set(taxon.scientificName, accepted);
  }
  return index;
}

/** What became of each accepted species of one checklist in the next. */
export function diffChecklists(
  before: Iterable<ChecklistTaxon>,
  after: Iterable<ChecklistTaxon>,
): ChecklistDiff {
  const [old, next] = [indexChecklist(before), indexChecklist(after)];
  const raised = findRaisedSubspecies(old, next);
  const claimed = new Set<string>();
  const changes = [...old.species.values()].map((taxon) => {
    const change = compareSpecies(taxon, old, next, raised.get(taxon.scientificName) ?? []);
    for (const name of change.newNames) claimed.add(name);
    return change;
  });
  const merged = markLumps(changes, old, next);
  return {
    changes: merged,
    added: [...next.species.keys()].filter((name) => !claimed.has(name) && !old.species.has(name)),
  };
}

/** New species that were subspecies before, by the species they were part of. */
function findRaisedSubspecies(old: Index, next: Index): Map<string, string[]> {
  const raised = new Map<string, string[]>();
  for (const [subspecies, species] of old.speciesOfSubspecies) {
    const epithet = subspecies.split(' ').at(-1) ?? '';
    if (epithet === species.split(' ')[1]) continue;
    const family = old.species.get(species)?.family ?? null;
    for (const name of next.byEpithet.get(epithetKey(epithet, family)) ?? []) {
      // The same epithet in the old list was another species of the family, not this subspecies.
      if (old.species.has(name) || (old.byEpithet.get(epithetKey(epithet, family)) ?? []).length > 0)
        continue;
      if (name.split(' ')[0] !== species.split(' ')[0]) continue;
      raised.set(species, [...(raised.get(species) ?? []), name]);
    }
  }
  return raised;
}

function compareSpecies(taxon: ChecklistTaxon, old: Index, next: Index, raised: string[]): ChecklistChange {
  const oldName = taxon.scientificName;
  const successor = findSuccessor(taxon, old, next);
  const base = { oldName, newNames: successor ? [successor.name] : [] };
  if (raised.length > 0) {
    const newNames = [...new Set([...base.newNames, ...raised])];
    return {
      ...base,
      kind: 'split',
      newNames,
      asksPerson: true,
      reason: say('Subspecies became species: {raised}.', { raised: raised.join(', ') }),
    };
  }
  if (!successor)
    return {
      ...base,
      kind: 'missing',
      asksPerson: true,
      reason: say('The new list has no such name or synonym.'),
    };
  return { ...base, kind: successor.kind, asksPerson: successor.asksPerson, reason: successor.reason };
}

interface Successor {
  name: string;
  kind: 'same' | 'renamed' | 'lumped';
  asksPerson: boolean;
  reason: string;
}

function findSuccessor(taxon: ChecklistTaxon, old: Index, next: Index): Successor | null {
  const oldName = taxon.scientificName;
  if (next.species.has(oldName))
    return { name: oldName, kind: 'same', asksPerson: false, reason: say('The name is the same.') };
  const sameId = next.byId.get(taxon.taxonId);
  if (sameId?.status === 'accepted' && sameId.rank === 'species') {
    return {
      name: sameId.scientificName,
      kind: 'renamed',
      asksPerson: false,
      reason: say('The identifier is the same.'),
    };
  }
  const accepted = next.acceptedOfSynonym.get(oldName);
  if (accepted) {
    const species = next.speciesOfSubspecies.get(accepted) ?? accepted;
    return {
      name: species,
      kind: 'renamed',
      asksPerson: false,
      reason: say('The new list has it as a synonym of {accepted}.', { accepted }),
    };
  }
  const epithet = parseScientificName(oldName).specificEpithet ?? '';
  const demoted = [...next.speciesOfSubspecies].filter(
    ([name]) => name.split(' ').at(-1) === epithet && name.split(' ')[0] === oldName.split(' ')[0],
  );
  const [only, another] = demoted.filter(([, species]) => species.split(' ')[1] !== epithet);
  if (only && !another)
    return {
      name: only[1],
      kind: 'lumped',
      asksPerson: true,
      reason: say('It became the subspecies {only}.', { only: only[0] }),
    };
  const key = epithetKey(epithet, taxon.family);
  const moved = (next.byEpithet.get(key) ?? []).filter((name) => !old.species.has(name));
  const unique = moved.length === 1 && (old.byEpithet.get(key) ?? []).length === 1;
  return unique && moved[0]
    ? {
        name: moved[0],
        kind: 'renamed',
        asksPerson: true,
        reason: say('Only one species of the family carries the epithet; probably moved to another genus.'),
      }
    : null;
}

/** A name that several old species now share is a lump for those that changed their name to it. */
function markLumps(changes: ChecklistChange[], old: Index, next: Index): ChecklistChange[] {
  const shared = new Map<string, number>();
  for (const change of changes) {
    if (change.kind === 'split') continue;
    for (const name of change.newNames) shared.set(name, (shared.get(name) ?? 0) + 1);
  }
  return changes.map((change) => {
    const [target] = change.newNames;
    if (change.kind !== 'renamed' || !target || (shared.get(target) ?? 0) < 2) return change;
    const others = old.species.has(target) && next.species.has(target) ? target : 'another species';
    return {
      ...change,
      kind: 'lumped',
      asksPerson: true,
      reason: say('{reason} It now shares the name with {others}.', { reason: change.reason, others }),
    };
  });
}
