import type { CoverageContext, CoverageFacts } from '../coverage-schema';
import type { ClauseOf, Permit, PermitClause } from '../permit-schema';
import type { CoverageReason } from '../schema';
import { matchPlaces, moreDaysThan } from './conditions';
import { addDays, type DayRange, placeRange } from './dates';
import { clausesOfKind, clausesOn, countQuotaUse, findClause } from './deadlines';
import { makeReason, type ReasonInput } from './reasons';
import type { ProtectedStatus } from './status';
import { type Answer, matchSelectors, normaliseName } from './taxa';

type Judge = {
  permit: Permit;
  facts: CoverageFacts;
  found: DayRange;
  context: CoverageContext;
  protectedStatus: ProtectedStatus;
  generalAuthorisationInForce: boolean;
};

const ofClause = (clause: PermitClause, input: ReasonInput): CoverageReason =>
  makeReason({ ...input, clauseId: clause.id, cite: clause.text || null });

/** Was the bird found within the permit's dates? Only if every possible day is. */
function judgeDates({ permit, found }: Judge, clauses: PermitClause[]): CoverageReason {
  const { effectiveOn, expiresOn, number } = permit;
  const where = placeRange(found, effectiveOn, expiresOn);
  if (where === 'inside') {
    return makeReason({
      outcome: 'pass',
      code: 'in-force',
      message: `${number} was in force when it was found`,
    });
  }
  const grace = findClause(clauses, 'grace');
  if (grace && placeRange(found, effectiveOn, grace.until) === 'inside') {
    const applied = grace.renewalAppliedOn !== null && grace.renewalAppliedOn <= (expiresOn ?? grace.until);
    return ofClause(grace, {
      outcome: applied ? 'note' : 'attention',
      code: 'in-grace',
      message: applied
        ? `Found in the grace between renewals, until ${grace.until}; the renewal was asked for in time`
        : `Found in the grace between renewals, until ${grace.until}; no renewal in time is recorded`,
    });
  }
  if (where === 'before') {
    return makeReason({
      outcome: 'fail',
      code: 'before-effective',
      message: `Found before ${number} took effect on ${effectiveOn}; a later accession does not cure it`,
      hold: 'quarantine',
    });
  }
  if (where === 'after') {
    if (grace && found.earliestOn <= grace.until) return straddles(number);
    return makeReason({
      outcome: 'fail',
      code: 'after-expiry',
      message: `Found after ${number} expired on ${expiresOn}; a later accession does not cure it`,
      hold: 'quarantine',
    });
  }
  return straddles(number);
}

function straddles(number: string): CoverageReason {
  return makeReason({
    outcome: 'attention',
    code: 'dates-straddle',
    message: `Some of the possible days of finding lie outside the dates of ${number}: narrow the date`,
    hold: 'quarantine',
  });
}

function judgePlace({ permit, facts }: Judge, clauses: PermitClause[]): CoverageReason {
  const [clause, ...more] = clausesOfKind(clauses, 'places');
  const places = clause
    ? [clause, ...more].flatMap((entry) => entry.places)
    : [{ within: permit.jurisdiction }];
  const answer = matchPlaces(facts, places);
  const clauseId = clause?.id ?? null;
  if (answer === 'yes') {
    return makeReason({
      outcome: 'pass',
      code: 'in-place',
      message: 'Found where the permit holds',
      clauseId,
    });
  }
  const message =
    answer === 'no'
      ? 'Found outside the places of the permit; the place of finding counts, not the museum'
      : 'The place of finding is not known well enough to tell';
  return makeReason({
    outcome: answer === 'no' ? 'fail' : 'attention',
    code: answer === 'no' ? 'out-of-place' : 'place-unsure',
    message,
    clauseId,
    hold: 'quarantine',
  });
}

function judgeTaxaAllowed(judge: Judge, clauses: PermitClause[]): CoverageReason[] {
  const [clause, ...more] = clausesOfKind(clauses, 'taxa-allowed');
  if (!clause) return [];
  const { facts, protectedStatus } = judge;
  const taxa = [clause, ...more].flatMap((entry) => entry.taxa);
  const answer = matchSelectors(facts.taxon, taxa, protectedStatus.onList);
  const words: Record<Answer, ReasonInput> = {
    yes: {
      outcome: 'pass',
      code: 'taxon-allowed',
      message: `${facts.taxon.name} is among the permit's taxa`,
    },
    unsure: {
      outcome: 'attention',
      code: 'taxon-unsure',
      message: `${facts.taxon.name} may or may not be among the permit's taxa: identify it further`,
      hold: 'identification',
    },
    no: {
      outcome: 'fail',
      code: 'taxon-not-allowed',
      message: `${facts.taxon.name} is not among the permit's taxa`,
    },
  };
  return [ofClause(clause, words[answer])];
}

function judgeTaxaExcluded(
  { facts, protectedStatus }: Judge,
  clause: ClauseOf<'taxa-excluded'>,
): CoverageReason[] {
  const answer = matchSelectors(facts.taxon, clause.taxa, protectedStatus.onList);
  if (answer === 'no') return [];
  const sure = answer === 'yes';
  return [
    ofClause(clause, {
      outcome: sure ? 'fail' : 'attention',
      code: sure ? 'taxon-excluded' : 'taxon-perhaps-excluded',
      message: sure
        ? `The permit excludes ${facts.taxon.name}`
        : `${facts.taxon.name} may be one of the taxa the permit excludes`,
      hold: sure ? 'legal' : 'identification',
    }),
  ];
}

function judgeContactFirst(
  { facts, protectedStatus }: Judge,
  clause: ClauseOf<'contact-first'>,
): CoverageReason[] {
  const answer = matchSelectors(facts.taxon, clause.taxa, protectedStatus.onList);
  if (answer === 'no') return [];
  if (facts.contactedOn !== null) {
    const message = `${clause.contact} was contacted on ${facts.contactedOn}`;
    return [ofClause(clause, { outcome: 'note', code: 'contact-made', message })];
  }
  const message = `${answer === 'yes' ? 'This' : 'This may be a'} taxon needs a call first: ${clause.contact}`;
  return [
    ofClause(clause, {
      outcome: 'attention',
      code: 'contact-first',
      message,
      whoMustBeTold: clause.contact,
      hold: 'contact-first',
    }),
  ];
}

function judgeSpecimenType({ facts }: Judge, clauses: PermitClause[]): CoverageReason[] {
  const [clause, ...more] = clausesOfKind(clauses, 'specimen-types');
  if (!clause) {
    if (facts.specimenType !== 'nest' && facts.specimenType !== 'egg') return [];
    const message = `The permit does not say whether it allows a specimen of type ${facts.specimenType}`;
    return [makeReason({ outcome: 'attention', code: 'specimen-type-unsaid', message })];
  }
  if ([clause, ...more].some((entry) => entry.types.includes(facts.specimenType))) return [];
  const message = `The permit does not allow a specimen of type ${facts.specimenType}`;
  return [ofClause(clause, { outcome: 'fail', code: 'specimen-type-not-allowed', message })];
}

function judgeQuota(judge: Judge, clause: ClauseOf<'quota'>): CoverageReason[] {
  const { permit, facts, found, context, protectedStatus } = judge;
  const answer = matchSelectors(facts.taxon, clause.taxa, protectedStatus.onList);
  if (answer === 'no') return [];
  const uses = [found.earliestOn, found.latestOn].map((date) =>
    countQuotaUse(permit, clause, date, context.counted, protectedStatus.onList),
  );
  const over = uses.filter(({ used, maximum }) => used + facts.quantity > maximum);
  const first = over[0];
  if (!first) return [];
  const sure = answer === 'yes' && over.length === uses.length;
  return [
    ofClause(clause, {
      outcome: sure ? 'fail' : 'attention',
      code: sure ? 'quota-exceeded' : 'quota-perhaps-exceeded',
      message: `${first.used} of ${first.maximum} already count from ${first.fromOn} to ${first.untilOn}; this adds ${facts.quantity}`,
    }),
  ];
}

type Person = { personId: string | null; name: string };

function isSamePerson(finder: CoverageFacts['finder'], person: Person): boolean {
  if (finder.personId !== null && person.personId !== null) return finder.personId === person.personId;
  return finder.name !== null && normaliseName(finder.name) === normaliseName(person.name);
}

/** May the finder act under the permit on the day of finding? The list of people is tested on that day. */
function mayFinderAct(judge: Judge, who: ClauseOf<'who-may-act'>['who']): Answer {
  const { permit, facts, found } = judge;
  const { finder } = facts;
  if (who.includes('anyone')) return 'yes';
  if (who.includes('under-direct-control') && finder.relation === 'under-direct-control') return 'yes';
  if (who.includes('holder') && isSamePerson(finder, permit.holder)) return 'yes';
  if (!who.includes('sub-permittees')) return 'no';
  const terms = permit.subPermittees
    .filter((person) => isSamePerson(finder, person))
    .map((person) => placeRange(found, person.fromOn, person.untilOn));
  if (terms.includes('inside')) return 'yes';
  return terms.includes('straddles') ? 'unsure' : 'no';
}

function judgeFinder(judge: Judge, clauses: PermitClause[]): CoverageReason {
  const [clause, ...more] = clausesOfKind(clauses, 'who-may-act');
  const who: ClauseOf<'who-may-act'>['who'] = clause
    ? [clause, ...more].flatMap((entry) => entry.who)
    : ['holder', 'sub-permittees', 'under-direct-control'];
  const answer = mayFinderAct(judge, who);
  const clauseId = clause?.id ?? null;
  // Reasons are read by people who may not see a finder's name.
  const name = judge.facts.finder.name === null ? 'An unnamed finder' : 'The finder';
  if (answer === 'yes') {
    return makeReason({
      outcome: 'pass',
      code: 'finder-may-act',
      message: `${name} may act under it`,
      clauseId,
    });
  }
  if (answer === 'unsure') {
    const message = `${name} was on the permit for some of the possible days of finding only`;
    return makeReason({ outcome: 'attention', code: 'finder-dates-straddle', message, clauseId });
  }
  if (judge.generalAuthorisationInForce) {
    const message = `${name} was not on the permit on the day of finding`;
    return makeReason({ outcome: 'fail', code: 'finder-not-on-permit', message, clauseId });
  }
  const message = `${name} was not on the permit, and no general authorisation was in force: the officer decides, with a note`;
  return makeReason({
    outcome: 'attention',
    code: 'finder-needs-ruling',
    message,
    clauseId,
    hold: 'quarantine',
  });
}

function judgeTag({ facts }: Judge, clause: ClauseOf<'tagging'>): CoverageReason[] {
  const missing = clause.fields.filter((field) => !facts.tag.includes(field));
  if (missing.length === 0) return [];
  const message = `The tag lacks: ${missing.join(', ').replaceAll('-', ' ')}`;
  return [ofClause(clause, { outcome: 'attention', code: 'tag-incomplete', message })];
}

function judgeTransfer(judge: Judge, clause: ClauseOf<'transfer-within-days'>): CoverageReason[] {
  const { permit, facts, found, context } = judge;
  if (clause.after === 'expiry') {
    if (permit.expiresOn === null) return [];
    const lastDay = addDays(permit.expiresOn, clause.days);
    if (context.today <= lastDay) return [];
    const message = `Specimens were to be transferred by ${lastDay}, ${clause.days} days after expiry`;
    return [ofClause(clause, { outcome: 'note', code: 'transfer-due', message })];
  }
  const receivedOn = facts.receivedOn ?? context.today;
  const answer = moreDaysThan(found, { earliestOn: receivedOn, latestOn: receivedOn }, clause.days);
  if (answer === 'no') return [];
  const message =
    answer === 'yes'
      ? `More than ${clause.days} days from finding to handing over`
      : `Perhaps more than ${clause.days} days from finding to handing over`;
  return [ofClause(clause, { outcome: 'attention', code: 'late-transfer', message })];
}

function judgeClauseSet(judge: Judge, clauses: PermitClause[]): CoverageReason[] {
  const single = [
    judgeDates(judge, clauses),
    judgePlace(judge, clauses),
    judgeFinder(judge, clauses),
    ...judgeTaxaAllowed(judge, clauses),
    ...judgeSpecimenType(judge, clauses),
  ];
  const each = clauses.flatMap((clause) => {
    switch (clause.kind) {
      case 'taxa-excluded':
        return judgeTaxaExcluded(judge, clause);
      case 'contact-first':
        return judgeContactFirst(judge, clause);
      case 'quota':
        return judgeQuota(judge, clause);
      case 'tagging':
        return judgeTag(judge, clause);
      case 'transfer-within-days':
        return judgeTransfer(judge, clause);
      default:
        return [];
    }
  });
  return [...single, ...each];
}

/** The clause sets that were in force on any of the possible days of finding. */
export function clauseSetsOver(permit: Permit, found: DayRange): PermitClause[][] {
  const changes = permit.amendments
    .map((amendment) => amendment.effectiveOn)
    .filter((date) => date > found.earliestOn && date <= found.latestOn);
  return [found.earliestOn, ...new Set(changes)].map((date) => clausesOn(permit, date));
}

/** Judge a bird against one permit's own clauses; where an amendment falls among the days, against both texts. */
export function judgePermit(judge: Judge): CoverageReason[] {
  const reasons = clauseSetsOver(judge.permit, judge.found).flatMap((set) => judgeClauseSet(judge, set));
  const distinct = new Map(
    reasons.map((reason) => [`${reason.code} ${reason.clauseId} ${reason.message}`, reason]),
  );
  return [...distinct.values()].map((reason) => ({ ...reason, authorityId: judge.permit.id }));
}

/** Does the permit expressly authorise this taxon (a listed bird, an eagle) over the whole range of days? */
export function hasSpecialAuthorisation(
  permit: Permit,
  facts: CoverageFacts,
  found: DayRange,
  protectedStatus: ProtectedStatus,
): boolean {
  return clauseSetsOver(permit, found).every((set) =>
    set.some(
      (clause) =>
        clause.kind === 'special-authorisation' &&
        matchSelectors(facts.taxon, clause.taxa, protectedStatus.onList) === 'yes',
    ),
  );
}
