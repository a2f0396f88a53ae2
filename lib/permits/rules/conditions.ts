import type { CoverageContext, CoverageFacts, FactName } from '../coverage-schema';
import type { Condition, DayName, LeafCondition } from '../pack-schema';
import type { PlaceSelector } from '../permit-schema';
import type { TaxonStatusWord } from '../schema';
import { type DayRange, daysBetween, placeRange } from './dates';
import type { ProtectedStatus } from './status';
import { type Answer, allOf, anyOf, matchSelectors, normaliseName } from './taxa';

/** Everything a condition may look at. */
export type Situation = {
  facts: CoverageFacts;
  status: TaxonStatusWord;
  protectedStatus: ProtectedStatus;
  context: CoverageContext;
  authorityId: string | null;
};

const yesNo = (holds: boolean): Answer => (holds ? 'yes' : 'no');
const not = (answer: Answer): Answer => (answer === 'unsure' ? 'unsure' : yesNo(answer === 'no'));

/** The value of a named fact: true, false, or null when nobody knows. */
export function readFact(facts: CoverageFacts, fact: FactName): boolean | null {
  switch (fact) {
    case 'federal-band':
      return facts.bandNumber === null ? false : facts.bandIsFederal;
    case 'band-reported':
      return facts.bandReportedOn !== null;
    case 'contacted':
      return facts.contactedOn !== null;
    case 'contact-documented':
      return facts.contactDocument !== null;
    case 'law-enforcement-told':
      return facts.lawEnforcementToldOn !== null;
    case 'instruction-recorded':
      return facts.instructionReference !== null;
    case 'written-release':
      return facts.writtenReleaseReference !== null;
    case 'agency-staff':
      return facts.finder.relation === 'agency';
    case 'alive':
      return facts.alive;
    case 'nest-inactive':
      return facts.nestInactive;
    case 'egg-nonviable':
      return facts.eggNonviable;
    case 'breeding-season':
      return facts.breedingSeason;
    case 'finder-trained':
      return facts.finderTrained;
    case 'active-search':
      return facts.activeSearch;
    case 'suspected-illegal-kill':
      return facts.suspectedIllegalKill;
    case 'disease-signs':
      return facts.diseaseSigns;
    case 'personal-use-or-sale':
      return facts.personalUseOrSale;
    case 'source-authorised':
      return facts.sourceAuthorised;
    case 'exhibition-bird':
      return facts.exhibitionBird;
  }
}

/** Is the place of finding within one of these? Unsure where the record does not say enough. */
export function matchPlaces(facts: CoverageFacts, places: PlaceSelector[]): Answer {
  return anyOf(places.map((place) => matchPlace(facts.place, place)));
}

function matchPlace(found: CoverageFacts['place'], selector: PlaceSelector): Answer {
  const country = selector.within.slice(0, 2);
  if (found.country === null) return 'unsure';
  if (found.country !== country) return 'no';
  if (selector.within.length > 2) {
    if (found.subdivision === null) return 'unsure';
    if (found.subdivision !== selector.within) return 'no';
  }
  if (!selector.counties) return 'yes';
  if (found.county === null) return 'unsure';
  const county = normaliseName(found.county);
  return yesNo(selector.counties.some((name) => normaliseName(name) === county));
}

/** The possible days of a named event; one that has not happened is read as still open today. */
function readDays(situation: Situation, day: DayName): DayRange {
  const { facts, context } = situation;
  if (day === 'found') return { earliestOn: facts.foundEarliestOn, latestOn: facts.foundLatestOn };
  const days = { received: facts.receivedOn, contacted: facts.contactedOn, today: context.today };
  const on = days[day] ?? context.today;
  return { earliestOn: on, latestOn: on };
}

/** Have more than so many calendar days passed? Unsure when only some of the possible days say so. */
export function moreDaysThan(from: DayRange, to: DayRange, days: number): Answer {
  if (daysBetween(from.earliestOn, to.latestOn) <= days) return 'no';
  return daysBetween(from.latestOn, to.earliestOn) > days ? 'yes' : 'unsure';
}

function evaluateLeaf(condition: LeafCondition, situation: Situation): Answer {
  const { facts, protectedStatus, context } = situation;
  switch (condition.kind) {
    case 'taxon':
      return matchSelectors(facts.taxon, condition.taxa, protectedStatus.onList);
    case 'on-list': {
      const answer = protectedStatus.onList(condition.listId, facts.taxon);
      return answer === 'list-missing' ? 'unsure' : answer;
    }
    case 'status':
      return yesNo(condition.is.includes(situation.status));
    case 'specimen-type':
      return yesNo(condition.types.includes(facts.specimenType));
    case 'found-within': {
      const range = { earliestOn: facts.foundEarliestOn, latestOn: facts.foundLatestOn };
      const where = placeRange(range, condition.from, condition.until);
      return where === 'straddles' ? 'unsure' : yesNo(where === 'inside');
    }
    case 'found-in':
      return matchPlaces(facts, condition.places);
    case 'group-at-least':
      return yesNo(facts.groupSize >= condition.count);
    case 'fact': {
      const value = readFact(facts, condition.fact);
      return value === null ? condition.whenUnknown : yesNo(value === condition.is);
    }
    case 'days-over':
      return moreDaysThan(
        readDays(situation, condition.from),
        readDays(situation, condition.to),
        condition.days,
      );
    case 'tag-lacks':
      return yesNo(condition.fields.some((field) => !facts.tag.includes(field)));
    case 'report-overdue':
      return yesNo(context.overdueReports.some((report) => report.authorityId === situation.authorityId));
  }
}

/** Answer one condition of a rule pack. */
export function evaluateCondition(condition: Condition, situation: Situation): Answer {
  switch (condition.kind) {
    case 'all-of':
      return allOf(condition.conditions.map((part) => evaluateCondition(part, situation)));
    case 'any-of':
      return anyOf(condition.conditions.map((part) => evaluateCondition(part, situation)));
    case 'none-of':
      return not(anyOf(condition.conditions.map((part) => evaluateCondition(part, situation))));
    default:
      return evaluateLeaf(condition, situation);
  }
}
