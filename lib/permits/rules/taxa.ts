import type { TaxonFact } from '../coverage-schema';
import type { TaxonSelector } from '../permit-schema';

/** Does it hold? 'unsure' when the identification or the data does not go far enough to say. */
export type Answer = 'yes' | 'no' | 'unsure';

/** Whether a taxon is on an imported list, by list id; 'list-missing' when it was never imported. */
export type ListMembership = (listId: string, taxon: TaxonFact) => Answer | 'list-missing';

/** Names compare without regard to case and spacing. */
export function normaliseName(name: string): string {
  return name.trim().replace(/\s+/g, ' ').toLowerCase();
}

export function genusOf(name: string): string {
  return normaliseName(name).split(' ')[0] ?? '';
}

export function namesOf(taxon: TaxonFact): string[] {
  return [taxon.name, ...taxon.synonyms].map(normaliseName);
}

export function anyOf(answers: Answer[]): Answer {
  if (answers.includes('yes')) return 'yes';
  return answers.includes('unsure') ? 'unsure' : 'no';
}

export function allOf(answers: Answer[]): Answer {
  if (answers.includes('no')) return 'no';
  return answers.includes('unsure') ? 'unsure' : 'yes';
}

/** All candidates: yes; none: no; some: unsure. */
export function overCandidates(answers: Answer[]): Answer {
  if (answers.every((answer) => answer === 'yes')) return 'yes';
  return answers.every((answer) => answer === 'no') ? 'no' : 'unsure';
}

type NamedTaxon = { name: string; family?: string | null | undefined; order?: string | null | undefined };

function sameOrUnsure(known: string | null, wanted: string | null | undefined, match: Answer): Answer {
  if (!known || !wanted) return 'unsure';
  return normaliseName(known) === normaliseName(wanted) ? match : 'no';
}

/**
 * Is this bird of that named species or subspecies? A bird known to genus, family or order only can at most
 * be 'unsure', and is 'no' where its higher taxon excludes the name.
 */
export function matchName(taxon: TaxonFact, wanted: NamedTaxon): Answer {
  const name = normaliseName(wanted.name);
  if (taxon.mayBe.length > 0) {
    return overCandidates(
      taxon.mayBe.map((candidate) => {
        const normal = normaliseName(candidate);
        return normal === name || normal.startsWith(`${name} `) ? 'yes' : 'no';
      }),
    );
  }
  switch (taxon.rank) {
    case 'species':
    case 'subspecies': {
      const names = namesOf(taxon);
      if (names.some((own) => own === name || own.startsWith(`${name} `))) return 'yes';
      return names.some((own) => name.startsWith(`${own} `)) ? 'unsure' : 'no';
    }
    case 'genus':
      return namesOf(taxon).some((own) => own === genusOf(name)) ? 'unsure' : 'no';
    case 'family':
      return sameOrUnsure(taxon.name, wanted.family, 'unsure');
    case 'order':
      return sameOrUnsure(taxon.name, wanted.order, 'unsure');
    case 'class':
      return 'unsure';
  }
}

function matchGenus(taxon: TaxonFact, genus: string, family: string | undefined): Answer {
  const wanted = normaliseName(genus);
  if (taxon.mayBe.length > 0) {
    return overCandidates(taxon.mayBe.map((name) => (genusOf(name) === wanted ? 'yes' : 'no')));
  }
  if (taxon.rank === 'species' || taxon.rank === 'subspecies' || taxon.rank === 'genus') {
    return namesOf(taxon).some((own) => genusOf(own) === wanted) ? 'yes' : 'no';
  }
  return taxon.rank === 'family' ? sameOrUnsure(taxon.name, family, 'unsure') : 'unsure';
}

function matchFamily(taxon: TaxonFact, family: string, order: string | undefined): Answer {
  const known = taxon.rank === 'family' ? taxon.name : taxon.family;
  if (known) return sameOrUnsure(known, family, 'yes');
  const knownOrder = taxon.rank === 'order' ? taxon.name : taxon.order;
  return knownOrder ? sameOrUnsure(knownOrder, order, 'unsure') : 'unsure';
}

function matchOrder(taxon: TaxonFact, order: string): Answer {
  return sameOrUnsure(taxon.rank === 'order' ? taxon.name : taxon.order, order, 'yes');
}

/** Does the bird belong to this selection of taxa? */
export function matchSelector(taxon: TaxonFact, selector: TaxonSelector, onList: ListMembership): Answer {
  switch (selector.by) {
    case 'all':
      return 'yes';
    case 'order':
      return matchOrder(taxon, selector.name);
    case 'family':
      return matchFamily(taxon, selector.name, selector.order);
    case 'genus':
      return matchGenus(taxon, selector.name, selector.family);
    case 'name':
      return matchName(taxon, selector);
    case 'list': {
      const answer = onList(selector.listId, taxon);
      return answer === 'list-missing' ? 'unsure' : answer;
    }
  }
}

export function matchSelectors(taxon: TaxonFact, selectors: TaxonSelector[], onList: ListMembership): Answer {
  return anyOf(selectors.map((selector) => matchSelector(taxon, selector, onList)));
}
