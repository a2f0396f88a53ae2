import { legalCaution } from '../caution';
import type { CoverageContext, CoverageFacts } from '../coverage-schema';
import type { GeneralAuthorisation, PackRule, RulePack } from '../pack-schema';
import type { Permit } from '../permit-schema';
import type { ChosenAuthority, CoverageReason, CoverageResult } from '../schema';
import { hasSpecialAuthorisation, judgePermit } from './clauses';
import { evaluateCondition, type Situation } from './conditions';
import { placeRange } from './dates';
import { gravity, makeReason, verdictOf } from './reasons';
import type { ProtectedStatus, TaxonStatus } from './status';
import { allOf, matchSelectors } from './taxa';

type Candidate = { authority: ChosenAuthority; reasons: CoverageReason[] };

type Question = {
  facts: CoverageFacts;
  packs: RulePack[];
  protectedStatus: ProtectedStatus;
  context: CoverageContext;
  status: TaxonStatus & { unverified: boolean; cite: string | null };
};

const foundRange = (facts: CoverageFacts) => ({
  earliestOn: facts.foundEarliestOn,
  latestOn: facts.foundLatestOn,
});

function packsForPlace(packs: RulePack[], place: CoverageFacts['place']): RulePack[] {
  return packs.filter(
    (pack) => pack.jurisdiction === place.country || pack.jurisdiction === place.subdivision,
  );
}

/** A recalled rule that no officer has confirmed. It may tighten; it never loosens on its own. */
function isUnverified(entry: { id: string; mark: string }, context: CoverageContext): boolean {
  return entry.mark === 'recalled' && !context.confirmedRuleIds.includes(entry.id);
}

/** Lists first, then decisions, then the packs' own cited exceptions. */
function resolveStatus(
  facts: CoverageFacts,
  packs: RulePack[],
  protectedStatus: ProtectedStatus,
  context: CoverageContext,
): Question['status'] {
  const found = protectedStatus.statusOf(facts.taxon, facts.place.country);
  if (found.status !== 'unresolved') return { ...found, unverified: false, cite: null };
  const exceptions = packs
    .flatMap((pack) => pack.unprotected)
    .filter((entry) => matchSelectors(facts.taxon, entry.taxa, protectedStatus.onList) === 'yes');
  const exception = exceptions.find((entry) => !isUnverified(entry, context)) ?? exceptions[0];
  if (!exception) return { ...found, unverified: false, cite: null };
  return {
    status: 'unprotected',
    basis: exception.text,
    cite: exception.cite,
    unverified: isUnverified(exception, context),
  };
}

function applyRule(rule: PackRule, situation: Situation): CoverageReason[] {
  const answer = allOf(rule.when.map((part) => evaluateCondition(part, situation)));
  if (answer === 'no') return [];
  const { says } = rule;
  const sure = answer === 'yes';
  if (!sure && says.outcome === 'note') return [];
  return [
    makeReason({
      ...says,
      outcome: sure ? says.outcome : 'attention',
      message: sure ? says.message : `Cannot be told from what is recorded: ${says.message}`,
      authorityId: situation.authorityId,
      ruleId: rule.id,
      cite: rule.cite,
      mark: rule.mark,
      unverified: isUnverified(rule, situation.context),
    }),
  ];
}

/** Holds that every bird deserves; a pack's rule of the same code speaks in their place, with its citation. */
const plainHolds: Pick<PackRule, 'when' | 'says'>[] = [
  {
    when: [{ kind: 'fact', fact: 'alive', is: true, whenUnknown: 'no' }],
    says: {
      outcome: 'fail',
      code: 'live-bird',
      message: 'A live bird is not salvage: call somebody who is licensed to care for it',
      whoMustBeTold: 'a licensed rehabilitator',
      hold: 'legal',
    },
  },
  {
    when: [
      { kind: 'fact', fact: 'suspected-illegal-kill', is: true, whenUnknown: 'no' },
      { kind: 'fact', fact: 'written-release', is: false, whenUnknown: 'yes' },
    ],
    says: {
      outcome: 'attention',
      code: 'illegal-kill',
      message: 'Suspected illegal kill: no preparation, tissue or disposal until a written release',
      whoMustBeTold: 'wildlife law enforcement',
      hold: 'evidence',
    },
  },
  {
    when: [{ kind: 'fact', fact: 'disease-signs', is: true, whenUnknown: 'no' }],
    says: {
      outcome: 'attention',
      code: 'disease',
      message: 'Signs of disease: bag it twice, keep it apart, do not open it',
      whoMustBeTold: 'the wildlife health authority of the place',
      hold: 'disease',
    },
  },
];

function judgeEverywhere(question: Question, authorityId: string | null, waived: boolean): CoverageReason[] {
  const { packs, facts, status, protectedStatus, context } = question;
  const situation: Situation = { facts, status: status.status, protectedStatus, context, authorityId };
  const fromPacks = packs
    .flatMap((pack) => pack.rules)
    .filter((rule) => rule.scope === 'any' && !(waived && rule.waivedBySpecialAuthorisation))
    .flatMap((rule) => applyRule(rule, situation));
  const spoken = new Set(fromPacks.map((reason) => reason.code));
  const plain = plainHolds
    .filter((hold) => !spoken.has(hold.says.code))
    .filter((hold) => allOf(hold.when.map((part) => evaluateCondition(part, situation))) === 'yes')
    .map((hold) => makeReason(hold.says));
  return [...fromPacks, ...plain, ...judgeOverdue(question, authorityId, spoken)];
}

function judgeOverdue(
  { context }: Question,
  authorityId: string | null,
  spoken: Set<string>,
): CoverageReason[] {
  const overdue = context.overdueReports.find((report) => report.authorityId === authorityId);
  if (!overdue || spoken.has('report-overdue')) return [];
  const message = `A report under this authority was due on ${overdue.dueOn} and is not handed in`;
  return [makeReason({ outcome: 'attention', code: 'report-overdue', message, authorityId })];
}

function judgeStatus({ status, facts, packs }: Question): CoverageReason[] {
  const reasons: CoverageReason[] = [];
  if (status.status === 'unresolved') {
    const message = `${facts.taxon.name} is on no imported list: unresolved, treated as protected until somebody decides`;
    reasons.push(
      makeReason({ outcome: 'attention', code: 'name-unresolved', message, hold: 'identification' }),
    );
  }
  if (status.status === 'assumed-protected') {
    const message = `${facts.taxon.name}: ${status.basis}; treated as protected`;
    reasons.push(makeReason({ outcome: 'note', code: 'assumed-protected', message }));
  }
  if (packs.length === 0) {
    const where = facts.place.country ?? 'an unknown country';
    const message = `No rule pack for ${where}: ask what its law requires`;
    reasons.push(makeReason({ outcome: 'attention', code: 'no-rule-pack', message }));
  }
  return reasons;
}

function judgeAuthorisation(question: Question, authorisation: GeneralAuthorisation): Candidate {
  const { facts, packs, protectedStatus, context, status } = question;
  const source = {
    authorityId: authorisation.id,
    ruleId: authorisation.id,
    cite: authorisation.cite,
    mark: authorisation.mark,
    unverified: isUnverified(authorisation, context),
  };
  const where = placeRange(foundRange(facts), authorisation.effectiveOn, authorisation.endsOn);
  const reasons: CoverageReason[] = [];
  if (where === 'inside') {
    reasons.push(makeReason({ ...source, outcome: 'pass', code: 'in-force', message: authorisation.text }));
  } else if (where === 'straddles') {
    const message = 'Some of the possible days of finding lie outside its dates: narrow the date';
    reasons.push(makeReason({ ...source, outcome: 'attention', code: 'dates-straddle', message }));
  } else {
    const message = `Not in force when it was found (from ${authorisation.effectiveOn})`;
    reasons.push(makeReason({ ...source, outcome: 'fail', code: 'not-in-force', message }));
  }
  if (!authorisation.specimenTypes.includes(facts.specimenType)) {
    const message = `It does not speak of a specimen of type ${facts.specimenType}`;
    reasons.push(makeReason({ ...source, outcome: 'fail', code: 'specimen-type-not-allowed', message }));
  }
  if (source.unverified) {
    const message =
      'This authorisation is recalled and not confirmed: an officer must confirm it before it covers';
    reasons.push(makeReason({ ...source, outcome: 'attention', code: 'authorisation-unverified', message }));
  }
  const situation: Situation = {
    facts,
    status: status.status,
    protectedStatus,
    context,
    authorityId: authorisation.id,
  };
  const own = packs
    .flatMap((pack) => pack.rules)
    .filter((rule) => rule.scope !== 'any' && rule.scope.authorisation === authorisation.id)
    .flatMap((rule) => applyRule(rule, situation));
  return {
    authority: { kind: 'general-authorisation', id: authorisation.id, title: authorisation.title },
    reasons: [...reasons, ...own, ...judgeEverywhere(question, authorisation.id, false)],
  };
}

function judgeUnprotected(question: Question): Candidate {
  const { facts, status } = question;
  const reason = makeReason({
    outcome: status.unverified ? 'attention' : 'pass',
    code: status.unverified ? 'unprotected-unverified' : 'unprotected',
    message: status.unverified
      ? `${facts.taxon.name} is recalled as not protected (${status.basis}); an officer must confirm it`
      : `${facts.taxon.name} is not protected: ${status.basis}`,
    cite: status.cite,
    unverified: status.unverified,
  });
  return {
    authority: { kind: 'not-required', id: 'not-required', title: 'No permit needed under this list' },
    reasons: [reason, ...judgeEverywhere(question, null, false)],
  };
}

function listCandidates(question: Question, permits: Permit[]): Candidate[] {
  const { facts, packs, context, protectedStatus, status } = question;
  const found = foundRange(facts);
  const authorisations = packs.flatMap((pack) => pack.authorisations);
  const generalAuthorisationInForce = authorisations.some(
    (entry) => placeRange(found, entry.effectiveOn, entry.endsOn) === 'inside',
  );
  const fromPermits = permits.map((permit): Candidate => {
    const own = judgePermit({ permit, facts, found, context, protectedStatus, generalAuthorisationInForce });
    const waived = hasSpecialAuthorisation(permit, facts, found, protectedStatus);
    return {
      authority: { kind: 'permit', id: permit.id, title: `${permit.authority} ${permit.number}` },
      reasons: [...own, ...judgeEverywhere(question, permit.id, waived)],
    };
  });
  return [
    ...(status.status === 'unprotected' ? [judgeUnprotected(question)] : []),
    ...fromPermits,
    ...authorisations.map((authorisation) => judgeAuthorisation(question, authorisation)),
  ];
}

function chooseBest(candidates: Candidate[], facts: CoverageFacts): Candidate | undefined {
  const claimed = (candidate: Candidate) =>
    facts.claims.some((claim) => claim.role === 'primary' && claim.authorityId === candidate.authority.id);
  // The grave outcome decides; among equals the authority the bird is claimed under, then the order given.
  const rank = (candidate: Candidate) =>
    Math.max(gravity(candidate.reasons), 1) * 2 - (claimed(candidate) ? 1 : 0);
  return candidates.reduce<Candidate | undefined>(
    (best, candidate) => (best === undefined || rank(candidate) < rank(best) ? candidate : best),
    undefined,
  );
}

/** One bird counts under one primary authority; the others it is claimed under are also required. */
function judgeClaims(facts: CoverageFacts, chosen: Candidate, candidates: Candidate[]): CoverageReason[] {
  const reasons: CoverageReason[] = [];
  const primary = facts.claims.filter((claim) => claim.role === 'primary');
  if (primary.length > 1 || (primary.length === 0 && facts.claims.length > 1)) {
    const message =
      'Claimed under several authorities: name the one that counts it, the others are also required';
    reasons.push(makeReason({ outcome: 'attention', code: 'claimed-twice', message }));
  }
  const [only] = primary;
  if (primary.length === 1 && only && only.authorityId !== chosen.authority.id) {
    const message = `Claimed under another authority than the one that fits best, ${chosen.authority.title}`;
    reasons.push(
      makeReason({ outcome: 'note', code: 'claimed-elsewhere', message, authorityId: only.authorityId }),
    );
  }
  for (const claim of facts.claims.filter((entry) => entry.role === 'also-required')) {
    const other = candidates.find((candidate) => candidate.authority.id === claim.authorityId);
    if (other && verdictOf(other.reasons) === 'covered') continue;
    const title = other?.authority.title ?? claim.authorityId;
    const message = `${title} is also required and does not cover it yet`;
    const authorityId = claim.authorityId;
    reasons.push(makeReason({ outcome: 'attention', code: 'also-required', message, authorityId }));
  }
  return reasons;
}

/**
 * Is this bird lawfully held? Pure: facts about the find, the permits, the rule packs, the indexed lists of
 * protected taxa and what else is known today give a verdict with every reason, its clause or citation.
 * The place of finding decides which packs apply. Informs only; the caution says who decides.
 */
export function checkCoverage(
  facts: CoverageFacts,
  permits: Permit[],
  packs: RulePack[],
  protectedStatus: ProtectedStatus,
  context: CoverageContext,
): CoverageResult {
  const here = packsForPlace(packs, facts.place);
  const status = resolveStatus(facts, here, protectedStatus, context);
  const question: Question = { facts, packs: here, protectedStatus, context, status };
  const candidates = listCandidates(question, permits);
  const chosen = chooseBest(candidates, facts);
  const none: Candidate = {
    authority: { kind: 'not-required', id: 'none', title: 'none' },
    reasons: [
      makeReason({
        outcome: 'fail',
        code: 'no-authority',
        message: 'No permit or general authorisation to try',
      }),
      ...judgeEverywhere(question, null, false),
    ],
  };
  const best = chosen ?? none;
  const reasons = [...best.reasons, ...judgeStatus(question), ...judgeClaims(facts, best, candidates)];
  const distinct = (values: (string | null)[]) => [...new Set(values.filter((value) => value !== null))];
  return {
    verdict: verdictOf(reasons),
    authority: chosen && gravity(chosen.reasons) < 3 ? chosen.authority : null,
    status: status.status,
    reasons,
    holds: distinct(reasons.map((reason) => reason.hold)) as CoverageResult['holds'],
    whoMustBeTold: distinct(reasons.map((reason) => reason.whoMustBeTold)),
    others: candidates
      .filter((candidate) => candidate !== chosen)
      .map(({ authority, reasons: own }) => ({ authority, verdict: verdictOf(own), reasons: own })),
    caution: legalCaution,
  };
}
