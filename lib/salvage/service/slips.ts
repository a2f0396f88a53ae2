import 'server-only';
import { createHmac, randomInt, randomUUID } from 'node:crypto';
import { ensureShippedPacks } from '@/lib/permits/public';
import { locatePoint } from '@/lib/places/public';
import {
  type Actor,
  authorise,
  type CommandContext,
  personOf,
  systemActor,
  unkept,
} from '@/lib/platform/actor';
import { dayIn, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { settings } from '@/lib/platform/env';
import { AppError, conflict, notFound } from '@/lib/platform/errors';
import { digestToken } from '@/lib/platform/identity/tokens';
import { cutPage, type PageQuery, writeCursor } from '@/lib/platform/paging';
import { paths } from '@/lib/platform/paths';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { salvageEvents } from '../events';
import { findByClientKey, findCollection } from '../repo/records';
import { findSlip, findSlipByDigest, findSlips, insertSlip, revokeSlip, type SlipFound } from '../repo/slips';
import {
  type DropOffRequest,
  type FinderContact,
  finderContact,
  type ReportFindRequest,
  reportFindRequest,
} from '../schema';
import type { SlipRow } from '../wire-slip';
import { logFind } from './report';

/**
 * The word in a slip's address. It is worked out from the slip and the installation's secret, so that a slip can be printed
 * again while only its digest is kept; another secret ends all slips.
 */
function tokenOf(slipId: string): string {
  const { NEXTAUTH_SECRET } = settings();
  if (NEXTAUTH_SECRET === undefined) throw new Error('NEXTAUTH_SECRET is not set: start with `npm start`.');
  return createHmac('sha256', NEXTAUTH_SECRET)
    .update(`drop-off slip ${slipId}`)
    .digest('base64url')
    .slice(0, 22);
}

export async function listSlips(
  actor: Actor,
  query: PageQuery,
): Promise<{ rows: SlipRow[]; next: string | null }> {
  authorise(actor, 'salvage.slips');
  const { rows, next } = cutPage(
    await findSlips(actor.collectionId, query),
    query.size,
    ({ createdAt, id }) => writeCursor([createdAt.toISOString(), id]),
  );
  return { rows: rows.map(toRow), next };
}

/** Makes a slip: an address for finders without an account, good for one kind of report. */
export async function makeSlip(
  context: CommandContext,
  { label }: { label: string },
): Promise<SlipRow & { path: string }> {
  const { actor } = context;
  authorise(actor, 'salvage.slips');
  return withTx(unkept(context), async (work) => {
    const id = randomUUID();
    const token = tokenOf(id);
    const made = await insertSlip(work.db, {
      id,
      collectionId: actor.collectionId,
      label,
      tokenDigest: digestToken(token),
      createdById: personOf(actor),
    });
    work.audit(
      salvageEvents.make(
        'salvage.slip-made',
        { subjectType: 'drop-off-slip', subjectId: id },
        { slip: label },
      ),
    );
    return { ...toRow(made), path: paths.dropOff(token) };
  });
}

/** Ends a slip at once: its printed code opens nothing any more. */
export async function endSlip(context: CommandContext, id: string): Promise<SlipRow> {
  const { actor } = context;
  authorise(actor, 'salvage.slips');
  return withTx(context, async (work) => {
    const slip = await findSlip(work.db, actor.collectionId, id);
    if (slip === null) throw notFound(say('This slip'));
    if ((await revokeSlip(work.db, id, work.now, personOf(actor))) === 0)
      throw conflict(say('This slip was ended already.'));
    work.audit(
      salvageEvents.make(
        'salvage.slip-revoked',
        { subjectType: 'drop-off-slip', subjectId: id },
        { slip: slip.label },
      ),
    );
    return toRow({ ...slip, revokedAt: work.now });
  });
}

/** What the printed slip says. @throws AppError conflict when it was ended, or made under another secret. */
export async function describeSlip(
  actor: Actor,
  id: string,
): Promise<{ institution: string; label: string; path: string }> {
  authorise(actor, 'salvage.slips');
  const slip = await findSlip(db(), actor.collectionId, id);
  if (slip === null) throw notFound(say('This slip'));
  const token = tokenOf(id);
  if (slip.revokedAt !== null || digestToken(token) !== slip.tokenDigest) {
    throw conflict(say('This slip has ended. Make a new one.'));
  }
  const { name } = await findCollection(db(), actor.collectionId);
  return { institution: name, label: slip.label, path: paths.dropOff(token) };
}

const ended = () => notFound(say('This slip'));

/** Whom a finder writes to; nothing else of the collection. @throws AppError not-found for a slip that has ended. */
export async function openSlip(token: string): Promise<{ institution: string; today: string }> {
  const slip = await findSlipByDigest(digestToken(token));
  if (slip === null) throw ended();
  const { name, timeZone } = await findCollection(db(), slip.collectionId);
  return { institution: name, today: dayIn(timeZone, now()) };
}

const CODE_LETTERS = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789';
/** A short word for the bag, without letters and figures that are mistaken for each other. */
const makeReceiptCode = (): string =>
  Array.from({ length: 6 }, () => CODE_LETTERS[randomInt(CODE_LETTERS.length)]).join('');

/**
 * Takes a finder's report: it waits in triage as reported. The answer is a code to write on the bag and nothing else. A
 * report that is delivered twice makes one record.
 */
export async function dropOff(
  token: string,
  request: DropOffRequest,
): Promise<{ received: true; code: string }> {
  const slip = await findSlipByDigest(digestToken(token));
  if (slip === null) throw ended();
  const { collectionId } = slip;
  const earlier = await findByClientKey(db(), collectionId, request.requestKey);
  if (earlier !== null) return { received: true, code: earlier.receiptCode ?? '' };
  await ensureShippedPacks(collectionId);
  const code = makeReceiptCode();
  try {
    await withTx({ actor: { ...systemActor(collectionId), name: 'A finder' } }, async (work) => {
      await logFind(work, toReport(request), { source: 'drop-off', slip, receiptCode: code });
    });
    return { received: true, code };
  } catch (error) {
    // Two deliveries at the same moment: the other one made the record.
    if (!(error instanceof AppError) || error.code !== 'conflict') throw error;
    const made = await findByClientKey(db(), collectionId, request.requestKey);
    if (made === null) throw error;
    return { received: true, code: made.receiptCode ?? '' };
  }
}

/** A finder's words as a report. The device's position, where it was given, says country, state and county. */
function toReport(request: DropOffRequest): ReportFindRequest {
  const { latitude, longitude } = request;
  const located = latitude === null || longitude === null ? null : locatePoint({ latitude, longitude });
  const report = reportFindRequest.parse({
    requestKey: request.requestKey,
    found: request.found,
    place: {
      country: located?.countryCode || UNKNOWN_COUNTRY,
      stateProvince: located?.state ?? '',
      county: located?.county ?? request.county,
      locality: request.where,
      latitude,
      longitude,
      uncertaintyM: request.uncertaintyM,
    },
    verbatimTaxon: request.what,
    circumstances: request.how,
    diseaseSigns: request.lookedIll,
    finder: { name: request.name, ...readContact(request.contact) },
    facts: { othersDead: request.othersDead },
  });
  const { country } = report.place;
  // A finder is not asked for the country; where nothing says it, triage does.
  return { ...report, place: { ...report.place, country: country === UNKNOWN_COUNTRY ? '' : country } };
}

/** ISO 3166 keeps this code for "unknown". */
const UNKNOWN_COUNTRY = 'ZZ';
const LONGEST_PHONE = 60;

function readContact(contact: string | null): Partial<FinderContact> {
  if (contact === null) return {};
  if (finderContact.shape.email.safeParse(contact).success) return { email: contact };
  return contact.length > LONGEST_PHONE ? { address: contact } : { phone: contact };
}

function toRow(slip: SlipFound): SlipRow {
  return {
    id: slip.id,
    label: slip.label,
    createdAt: slip.createdAt.toISOString(),
    revokedAt: slip.revokedAt?.toISOString() ?? null,
    reports: slip._count.salvages,
    lastUsedAt: slip.salvages[0]?.loggedAt.toISOString() ?? null,
  };
}
