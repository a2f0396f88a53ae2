import 'server-only';
import { randomBytes } from 'node:crypto';
import { announce } from '@/lib/notices/public';
import {
  type Actor,
  authorise,
  type CommandContext,
  personOf,
  systemActor,
  unkept,
} from '@/lib/platform/actor';
import { dateColumn, dayIn, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { AppError, conflict, notFound } from '@/lib/platform/errors';
import { digestToken } from '@/lib/platform/identity/tokens';
import { cutPage, type PageQuery, writeCursor } from '@/lib/platform/paging';
import { paths } from '@/lib/platform/paths';
import { takeNumber } from '@/lib/platform/sequence';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { loanEvents } from '../events';
import type { LoanLinkRequest, LoanLinkRow, LoanLinkState, LoanLinkUse } from '../link-schema';
import { findNames, insertBorrower } from '../repo/borrowers';
import {
  claimLink,
  type FoundLink,
  findLink,
  findLinkByDigest,
  findLinks,
  insertLink,
  revokeLink,
} from '../repo/links';
import { findCollection, insertLoan } from '../repo/loans';
import { linkState } from '../rules';
import { type LoanState, loanStateSchema } from '../schema';

const DAY_MS = 86_400_000;

function toRow(link: FoundLink, names: ReadonlyMap<string, string>, at: Date): LoanLinkRow {
  return {
    id: link.id,
    label: link.label,
    madeBy: names.get(link.createdById) ?? say('somebody who left'),
    createdAt: link.createdAt.toISOString(),
    expiresAt: link.expiresAt.toISOString(),
    state: linkState(link, at),
    loan: link.loan && { id: link.loan.id, number: link.loan.number },
  };
}

export async function listLinks(
  actor: Actor,
  query: PageQuery,
): Promise<{ rows: LoanLinkRow[]; next: string | null }> {
  authorise(actor, 'loans.ask');
  const found = await findLinks(actor.collectionId, query);
  const { rows, next } = cutPage(found, query.size, ({ createdAt, id }) =>
    writeCursor([createdAt.toISOString(), id]),
  );
  const names = await findNames(
    db(),
    rows.map(({ createdById }) => createdById),
  );
  return { rows: rows.map((row) => toRow(row, names, now())), next };
}

/** Makes a link for one request of somebody without an account. Its address is in this answer and nowhere else. */
export async function makeLink(
  context: CommandContext,
  { label, validDays }: LoanLinkRequest,
): Promise<LoanLinkRow & { path: string }> {
  const { actor } = context;
  authorise(actor, 'loans.ask');
  const token = randomBytes(24).toString('base64url');
  // The kept answer of a repeated delivery would hold the address.
  return withTx(unkept(context), async (work) => {
    const made = await insertLink(work.db, {
      collectionId: actor.collectionId,
      label,
      tokenDigest: digestToken(token),
      createdById: personOf(actor),
      createdAt: work.now,
      expiresAt: new Date(work.now.getTime() + validDays * DAY_MS),
    });
    work.audit(
      loanEvents.make(
        'loans.link-made',
        { subjectType: 'loan-link', subjectId: made.id },
        { link: label, until: made.expiresAt.toISOString() },
      ),
    );
    const row = toRow(made, new Map([[personOf(actor), actor.name]]), work.now);
    return { ...row, path: paths.loanRequest(token) };
  });
}

/** Ends a link at once: its address opens nothing any more. A request that was sent through it stays. */
export async function endLink(context: CommandContext, id: string): Promise<LoanLinkRow> {
  const { actor } = context;
  authorise(actor, 'loans.ask');
  return withTx(context, async (work) => {
    const link = await findLink(work.db, actor.collectionId, id);
    if (link === null) throw notFound(say('This link'));
    if ((await revokeLink(work.db, id, work.now, personOf(actor))) === 0)
      throw conflict(say('This link was ended already.'));
    work.audit(
      loanEvents.make('loans.link-ended', { subjectType: 'loan-link', subjectId: id }, { link: link.label }),
    );
    const names = await findNames(work.db, [link.createdById]);
    return toRow({ ...link, revokedAt: work.now }, names, work.now);
  });
}

const ended = () => notFound(say('This link'));

/**
 * What the page behind a link shows: whom one writes to, and once the request is sent its state; nothing else.
 * @throws AppError not-found for a link that is unknown, over or ended: nobody is told which
 */
export async function openLink(token: string): Promise<{ institution: string; state: LoanState | null }> {
  const link = await findLinkByDigest(db(), digestToken(token), now());
  if (link === null) throw ended();
  const { name } = await findCollection(db(), link.collectionId);
  return { institution: name, state: link.loan && loanStateSchema.parse(link.loan.state) };
}

/**
 * Takes an outside borrower's request: a loan that is asked for, without materials yet; staff choose those by what was
 * wanted, so that the link cannot be used to try which numbers there are. Whoever made the link stands as who asked,
 * and so cannot decide on it. A request that is delivered twice makes one loan.
 * @throws AppError conflict when the link has its request already
 */
export async function askByLink(token: string, use: LoanLinkUse): Promise<LoanLinkState> {
  const link = await findLinkByDigest(db(), digestToken(token), now());
  if (link === null) throw ended();
  if (link.loan !== null) return answerAgain(link, use);
  try {
    return await writeRequest(link, use);
  } catch (error) {
    // Two deliveries at the same moment: the other one made the loan.
    if (!(error instanceof AppError) || error.code !== 'conflict') throw error;
    const again = await findLinkByDigest(db(), digestToken(token), now());
    if (again === null) throw ended();
    return answerAgain(again, use);
  }
}

type Link = NonNullable<Awaited<ReturnType<typeof findLinkByDigest>>>;

/** The state, to whoever sent this very request; a second request is refused. */
function answerAgain({ loan, requestKey }: Link, use: LoanLinkUse): LoanLinkState {
  if (loan === null || requestKey !== use.requestKey) throw used();
  return { state: loanStateSchema.parse(loan.state) };
}

function writeRequest(link: Link, use: LoanLinkUse): Promise<LoanLinkState> {
  const { collectionId } = link;
  const actor = { ...systemActor(collectionId), name: say('An outside borrower') };
  return withTx({ actor }, async (work) => {
    const { institution, contact, email, country, kind, purpose, wanted, requestKey } = use;
    const { timeZone } = await findCollection(work.db, collectionId);
    // A borrower of its own: what a stranger writes is not added to somebody else's history.
    const borrower = await insertBorrower(work.db, collectionId, { institution, contact, email, country });
    const number = await takeNumber(work, 'loan');
    const loan = await insertLoan(work.db, {
      collectionId,
      number,
      kind,
      borrowerId: borrower.id,
      purpose,
      askedOn: dateColumn(dayIn(timeZone, work.now)),
      dueOn: null,
      askedById: link.createdById,
      materialIds: [],
    });
    if ((await claimLink(work.db, link.id, { loanId: loan.id, sentAt: work.now, requestKey, wanted })) === 0)
      throw used();
    work.audit(
      loanEvents.make(
        'loans.asked-by-link',
        { subjectType: 'loan', subjectId: loan.id },
        { number, kind, link: link.label, wanted: wanted.length },
      ),
    );
    announce(work, {
      subjectType: 'loan',
      subjectId: loan.id,
      kind: 'loans.asked-by-link',
      facts: { loan: number, link: link.label },
      to: { roles: ['curator', 'registrar'] },
    });
    return { state: 'asked' as const };
  });
}

const used = () =>
  conflict(say('A request was sent through this link already. Ask for a new link for another one.'));
