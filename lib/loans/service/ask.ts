import 'server-only';
import { findQuickly } from '@/lib/catalogue/public';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { dateColumn, dayIn, dayOf, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { notFound, notValid } from '@/lib/platform/errors';
import type { FileAnswer } from '@/lib/platform/http';
import { splitMaterialNumber } from '@/lib/platform/numbers';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { takeNumber } from '@/lib/platform/sequence';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { labelOf, placePath } from '@/lib/storage/public';
import { loanEvents } from '../events';
import { drawLoanPapers } from '../papers';
import { findBorrowers, insertBorrower } from '../repo/borrowers';
import { findCollection, findLoans, insertLoan } from '../repo/loans';
import { findMaterialsOf, findVialByCode, type LendableMaterial, lockMaterials } from '../repo/materials';
import { overdueDays } from '../rules';
import {
  type AskLoanRequest,
  type BorrowerRequest,
  type LoanKind,
  loanKindSchema,
  loanStateSchema,
} from '../schema';
import { readLoanSettings } from '../settings';
import type { Borrower, Lendable, LendableQuery, LoanListQuery, LoanRecord, LoanRow } from '../wire';
import { problemsOf, recordOf } from './record';

/** Loans: the longest overdue first, then the open ones, then those that are over. */
export async function listLoans(
  actor: Actor,
  query: LoanListQuery,
): Promise<{ rows: LoanRow[]; next: string | null }> {
  authorise(actor, 'loans.see');
  const { timeZone } = await findCollection(db(), actor.collectionId);
  const today = dayIn(timeZone, now());
  const found = await findLoans(actor.collectionId, query, today);
  const { rows, next } = cutPage(found, query.size, ({ rank, place, id }) => writeCursor([rank, place, id]));
  return {
    rows: rows.map((loan) => {
      const state = loanStateSchema.parse(loan.state);
      const dueOn = loan.dueOn && dayOf(loan.dueOn);
      const { sent, returned, consumed, lost } = loan;
      return {
        id: loan.id,
        number: loan.number,
        kind: loanKindSchema.parse(loan.kind),
        state,
        institution: loan.institution,
        contact: loan.contact,
        askedOn: dayOf(loan.askedOn),
        dueOn,
        overdueDays: overdueDays({ state, dueOn }, today),
        materials: loan.materials,
        balance: { sent, returned, consumed, lost, out: sent - returned - consumed - lost },
      };
    }),
    next,
  };
}

export function showLoan(actor: Actor, id: string): Promise<LoanRecord> {
  return recordOf(db(), actor, id);
}

export async function listBorrowers(actor: Actor): Promise<{ borrowers: Borrower[] }> {
  authorise(actor, 'loans.see');
  return { borrowers: await findBorrowers(db(), actor.collectionId) };
}

/** Adds somebody who borrows. */
export async function addBorrower(context: CommandContext, request: BorrowerRequest): Promise<Borrower> {
  const { actor } = context;
  authorise(actor, 'loans.ask');
  return withTx(context, async (work) => {
    const { id } = await insertBorrower(work.db, actor.collectionId, request);
    work.audit(
      loanEvents.make(
        'loans.borrower-made',
        { subjectType: 'borrower', subjectId: id },
        { institution: request.institution, country: request.country },
      ),
    );
    const [made] = await findBorrowers(work.db, actor.collectionId, id);
    if (made === undefined) throw notFound(say('This borrower'));
    return made;
  });
}

/** Materials by a scanned code, a label or whatever the catalogue's box understands, each with why it cannot go. */
export async function findLendable(
  actor: Actor,
  { q = '', birds, kind }: LendableQuery,
): Promise<{ materials: Lendable[] }> {
  authorise(actor, 'loans.see');
  if (birds !== undefined) {
    const theirs = await findMaterialsOf(actor.collectionId, birds, null);
    return { materials: theirs.map((material) => toLendable(material, kind)) };
  }
  const scanned = await findVialByCode(actor.collectionId, q);
  const materials = scanned.length > 0 ? scanned : await findByWords(actor, q);
  return { materials: materials.map((material) => toLendable(material, kind)) };
}

async function findByWords(actor: Actor, q: string): Promise<LendableMaterial[]> {
  const { hits } = await findQuickly(actor, q);
  const label = splitMaterialNumber(q);
  const birds = hits.map(({ birdId }) => birdId);
  const own = hits.find(({ number, catalogueNumber }) =>
    [number, catalogueNumber].some((text) => text?.toLowerCase() === label?.birdNumber.toLowerCase()),
  );
  return label !== null && own !== undefined
    ? findMaterialsOf(actor.collectionId, [own.birdId], label.suffix)
    : findMaterialsOf(actor.collectionId, birds, null);
}

function toLendable(material: LendableMaterial, kind: LoanKind): Lendable {
  const { bird } = material;
  return {
    id: material.id,
    birdId: bird.id,
    label: labelOf(material),
    kind: material.kind,
    scientificName: bird.taxon?.scientificName ?? bird.salvage.verbatimTaxon,
    commonName: bird.taxon?.commonName ?? null,
    place: placePath(material.placement),
    problems: problemsOf(material, kind, null),
  };
}

/**
 * Writes a request down under a loan number. @throws AppError not-valid, naming each material that cannot go: away,
 * promised to another loan, on hold, not catalogued.
 */
export async function askLoan(context: CommandContext, request: AskLoanRequest): Promise<LoanRecord> {
  const { actor } = context;
  authorise(actor, 'loans.ask');
  return withTx(context, async (work) => {
    const ids = [...new Set(request.materialIds)];
    const [borrower] = await findBorrowers(work.db, actor.collectionId, request.borrowerId);
    if (borrower === undefined) throw notFound(say('This borrower'));
    const materials = await lockMaterials(work.db, actor.collectionId, ids);
    if (materials.length !== ids.length) throw notFound(say('One of the chosen materials'));
    const problems = materials.flatMap((material) =>
      problemsOf(material, request.kind, null).map((problem) => ({
        path: `materialIds.${material.id}`,
        message: `${labelOf(material)}: ${problem}`,
      })),
    );
    const { timeZone } = await findCollection(work.db, actor.collectionId);
    const today = dayIn(timeZone, work.now);
    if (request.dueOn != null && request.dueOn <= today)
      problems.push({ path: 'dueOn', message: say('The day it is due back lies in the past.') });
    if (problems.length > 0) throw notValid(say('The request was not saved.'), problems);
    const number = await takeNumber(work, 'loan');
    const made = await insertLoan(work.db, {
      collectionId: actor.collectionId,
      number,
      kind: request.kind,
      borrowerId: request.borrowerId,
      purpose: request.purpose,
      askedOn: dateColumn(today),
      dueOn: request.dueOn ? dateColumn(request.dueOn) : null,
      askedById: personOf(actor),
      materialIds: ids,
    });
    work.audit(
      loanEvents.make(
        'loans.asked',
        { subjectType: 'loan', subjectId: made.id },
        {
          number,
          kind: request.kind,
          borrower: borrower.institution,
          materials: materials.map(labelOf),
          dueOn: request.dueOn ?? null,
        },
      ),
    );
    return recordOf(work.db, actor, made.id);
  });
}

/** The loan's papers as PDF, in two copies. */
export async function loanPapers(actor: Actor, id: string): Promise<FileAnswer> {
  const loan = await showLoan(actor, id);
  const { name, settings, timeZone } = await findCollection(db(), actor.collectionId);
  const body = await drawLoanPapers(loan, {
    collection: name,
    address: readLoanSettings(settings).address,
    printedOn: dayIn(timeZone, now()),
  });
  return {
    body,
    mediaType: 'application/pdf',
    fileName: `${loan.number.replaceAll('/', '-')}.pdf`,
    inline: true,
  };
}
