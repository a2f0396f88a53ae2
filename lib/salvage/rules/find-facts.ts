import { type CoverageFacts, type ListedTaxon, toTaxonFact } from '@/lib/permits/public-rules';
import type { FindFacts } from '../schema';
import { codeSubdivision } from './subdivisions';

/** A find as it is kept, as far as the coverage check asks. */
export type KeptFind = {
  foundFrom: string;
  foundTo: string;
  receivedOn: string;
  country: string;
  stateProvince: string;
  county: string;
  specimenType: string;
  quantity: number;
  bandNumber: string | null;
  bandReportedOn: string | null;
  diseaseSigns: boolean;
  suspectedIllegal: boolean;
  facts: FindFacts;
  taxon: ListedTaxon | null;
  finder: { name: string | null; reachable: boolean };
};

/** The tag is printed from the record, so it says what the record holds. */
function tagOf(find: KeptFind): CoverageFacts['tag'] {
  if (find.facts.tag !== null) return find.facts.tag;
  const oneOfUs = find.facts.finderPersonId !== null;
  const tag: CoverageFacts['tag'] = ['species', 'date', 'place'];
  if (oneOfUs || find.finder.name !== null) tag.push('salvager-name');
  if (oneOfUs || find.finder.reachable) tag.push('salvager-contact');
  return tag;
}

/**
 * What the coverage check is asked about a kept find.
 * @param groupSize dead birds at that place and day as recorded, this one among them
 */
export function toCoverageFacts(find: KeptFind, groupSize: number): CoverageFacts {
  const { facts } = find;
  return {
    foundEarliestOn: find.foundFrom,
    foundLatestOn: find.foundTo,
    receivedOn: find.receivedOn,
    place: {
      country: find.country || null,
      subdivision: find.country ? codeSubdivision(find.country, find.stateProvince) : null,
      county: find.county || null,
    },
    finder: { personId: facts.finderPersonId, name: find.finder.name, relation: facts.finderRelation },
    taxon: toTaxonFact(find.taxon, facts.mayBe),
    specimenType: find.specimenType as CoverageFacts['specimenType'],
    quantity: find.quantity,
    groupSize: groupSize + facts.othersDead,
    bandNumber: find.bandNumber,
    bandIsFederal: facts.bandIsFederal,
    bandReportedOn: find.bandReportedOn,
    contactedOn: facts.contactedOn,
    contactDocument: facts.contactDocument,
    lawEnforcementToldOn: facts.lawEnforcementToldOn,
    instructionReference: facts.instructionReference,
    writtenReleaseReference: facts.writtenReleaseReference,
    tag: tagOf(find),
    alive: facts.alive,
    nestInactive: facts.nestInactive,
    eggNonviable: facts.eggNonviable,
    breedingSeason: facts.breedingSeason,
    finderTrained: facts.finderTrained,
    activeSearch: facts.activeSearch,
    suspectedIllegalKill: find.suspectedIllegal,
    diseaseSigns: find.diseaseSigns,
    personalUseOrSale: facts.personalUseOrSale,
    sourceAuthorised: facts.sourceAuthorised,
    exhibitionBird: facts.exhibitionBird,
    claims: facts.claims,
  };
}
