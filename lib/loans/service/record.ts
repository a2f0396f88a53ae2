import 'server-only';
import { z } from 'zod';
import { type Actor, authorise, personOf } from '@/lib/platform/actor';
import { dayIn, dayOf, now } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import { notFound } from '@/lib/platform/errors';
import { may } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';
import type { CustodyState } from '@/lib/queue/schema';
import { labelOf, placePath } from '@/lib/storage/public';
import { ACT_PERMISSION, isDecision } from '../policy';
import { findBorrowers, findNames } from '../repo/borrowers';
import { type FoundLine, type FoundLoan, findCollection, findLoan } from '../repo/loans';
import { findPaths, type LendableMaterial } from '../repo/materials';
import {
  LOAN_ACTS,
  LOAN_TRANSITIONS,
  type LoanFacts,
  lendingProblems,
  loanBalance,
  mayChoose,
  moveLoan,
  overdueDays,
} from '../rules';
import {
  extensionSchema,
  type LoanKind,
  type LoanLine,
  lineOutcomeSchema,
  loanKindSchema,
  loanStateSchema,
} from '../schema';
import { readLoanSettings } from '../settings';
import type { LoanLineRecord, LoanRecord } from '../wire';
import { borderOf } from './border';

/** A loan loaded for a command or an answer, with what the rules ask of it. */
export type LoadedLoan = {
  loan: FoundLoan;
  lines: LoanLine[];
  facts: LoanFacts;
  border: LoanRecord['border'];
  today: string;
  timeZone: string;
};

/** @throws AppError not-found outside the actor's collection */
export async function loadLoan(tx: Tx, actor: Actor, id: string): Promise<LoadedLoan> {
  const loan = await findLoan(tx, actor.collectionId, id);
  const collection = await findCollection(tx, actor.collectionId);
  if (loan === null) throw notFound(say('This loan'));
  const { timeZone } = collection;
  loan.lines.sort((a, b) => labelOf(a.material).localeCompare(labelOf(b.material)));
  const lines = loan.lines.map((line) => toRuleLine(line, timeZone));
  const border = await borderOf(tx, loan, actor.collectionId, readLoanSettings(collection.settings).country);
  return {
    loan,
    lines,
    border,
    timeZone,
    today: dayIn(timeZone, now()),
    facts: {
      state: loanStateSchema.parse(loan.state),
      lines,
      askedById: loan.askedById,
      missingDocuments: border.missing,
      dueOn: loan.dueOn && dayOf(loan.dueOn),
    },
  };
}

const wantedSchema = z.array(z.string());
const outcomeSchema = lineOutcomeSchema.nullable();
const extensionsSchema = extensionSchema.array();

/** Where a request came from, when not from staff. */
function originOf({ link }: FoundLoan): LoanRecord['origin'] {
  if (link === null || link.sentAt === null) return null;
  return {
    link: link.label,
    sentAt: link.sentAt.toISOString(),
    wanted: wantedSchema.parse(link.wanted),
  };
}

function toRuleLine(line: FoundLine, timeZone: string): LoanLine {
  return {
    lineId: line.id,
    materialId: line.materialId,
    sentOn: line.sentAt && dayIn(timeZone, line.sentAt),
    outcome: outcomeSchema.parse(line.outcome),
    outcomeOn: line.outcomeAt && dayIn(timeZone, line.outcomeAt),
    conditionOut: line.conditionOut,
    conditionIn: line.conditionIn,
  };
}

/** What makes a material unfit for a loan of this kind; a loan's own line does not count against it. */
export function problemsOf(
  material: Pick<LendableMaterial, 'custody' | 'kind' | 'state' | 'bird'> & {
    loanLines: readonly { loan: { id: string; number: string } }[];
  },
  loanKind: LoanKind,
  ownLoanId: string | null,
): string[] {
  const other = material.loanLines.find(({ loan }) => loan.id !== ownLoanId);
  return [
    ...lendingProblems({
      custody: material.custody as CustodyState,
      openLoanNumber: other?.loan.number ?? null,
      holds: material.bird.salvage.holds.map(({ reason }) => reason),
      isCatalogued: material.bird.catalogue !== null,
      samplingForbidden: false,
      loanKind,
    }),
    ...(material.kind === 'vial' && material.state === 'filled'
      ? [say('It has no place in storage yet.')]
      : []),
  ];
}

/** A loan as its page shows it, with what this actor may do next. */
export async function recordOf(tx: Tx, actor: Actor, id: string): Promise<LoanRecord> {
  authorise(actor, 'loans.see');
  const { loan, lines, facts, border, timeZone, today } = await loadLoan(tx, actor, id);
  // One after the other: a transaction has one connection.
  const names = await findNames(tx, [loan.askedById, loan.decidedById]);
  const paths = await findPaths(
    tx,
    loan.lines.map(({ shelfUnitId }) => shelfUnitId),
  );
  const [borrower] = await findBorrowers(tx, actor.collectionId, loan.borrowerId);
  if (borrower === undefined) throw notFound(say('This borrower'));
  const person = (personId: string | null) =>
    personId === null ? null : (names.get(personId) ?? say('somebody who left'));
  const day = (at: Date | null) => at && dayIn(timeZone, at);
  const kind = loanKindSchema.parse(loan.kind);
  const permitted = LOAN_ACTS.filter(
    (act) => LOAN_TRANSITIONS[act][facts.state] !== undefined && mayAct(actor, act, loan.askedById),
  );
  // The due date comes with the act of sending.
  const offered = { ...facts, dueOn: facts.dueOn ?? today };
  const moves = permitted.map((act) => ({ act, move: moveLoan(offered, act, personOf(actor)) }));
  return {
    id,
    number: loan.number,
    kind,
    state: facts.state,
    version: loan.version,
    purpose: loan.purpose,
    conditions: loan.conditions,
    borrower,
    askedOn: dayOf(loan.askedOn),
    askedBy: person(loan.askedById),
    origin: originOf(loan),
    decidedBy: person(loan.decidedById),
    decidedAt: loan.decidedAt?.toISOString() ?? null,
    decisionNote: loan.decisionNote,
    packedAt: loan.packedAt?.toISOString() ?? null,
    sentOn: day(loan.sentAt),
    receivedOn: day(loan.receivedAt),
    closedAt: loan.closedAt?.toISOString() ?? null,
    dueOn: facts.dueOn,
    overdueDays: overdueDays(facts, today),
    balance: loanBalance(lines),
    lines: loan.lines.map((line, index) => toLine(line, lines[index], { kind, loanId: id, paths })),
    extensions: extensionsSchema.parse(loan.extensions),
    border,
    today,
    acts: moves.flatMap(({ act, move }) => (move.ok ? [act] : [])),
    refusals: moves.flatMap(({ act, move }) => (move.ok ? [] : [{ act, reason: move.reason }])),
    abilities: {
      execute: may(actor, 'loans.execute'),
      choose: mayChoose(facts.state) && may(actor, 'loans.ask'),
      history: may(actor, 'audit.see'),
    },
  };
}

/** Whether the actor's roles allow an act on a request of this person. */
export const mayAct = (actor: Actor, act: (typeof LOAN_ACTS)[number], askedById: string | null): boolean =>
  may(actor, ACT_PERMISSION[act], isDecision(act) ? { ownerIds: [askedById] } : undefined);

function toLine(
  line: FoundLine,
  rule: LoanLine | undefined,
  context: { kind: LoanKind; loanId: string; paths: ReadonlyMap<string, string> },
): LoanLineRecord {
  const { material } = line;
  const { bird, vial } = material;
  const lay = line.shelfUnitId === null ? null : context.paths.get(line.shelfUnitId);
  const isWaiting = line.sentAt === null;
  return {
    id: line.id,
    materialId: material.id,
    birdId: bird.id,
    label: labelOf(material),
    kind: material.kind,
    custody: material.custody,
    scientificName: bird.taxon?.scientificName ?? bird.salvage.verbatimTaxon,
    commonName: bird.taxon?.commonName ?? null,
    place:
      placePath(material.placement) ??
      (lay ? placePath({ unit: { path: lay }, position: line.shelfPosition }) : null),
    vial:
      vial === null || vial.amountLeft === null
        ? null
        : { amountLeft: vial.amountLeft, unit: vial.amountUnit },
    conditionOut: line.conditionOut,
    conditionIn: line.conditionIn,
    sentOn: rule?.sentOn ?? null,
    outcome: rule?.outcome ?? null,
    outcomeOn: rule?.outcomeOn ?? null,
    outcomeNote: line.outcomeNote,
    problems: isWaiting ? problemsOf(material, context.kind, context.loanId) : [],
  };
}
