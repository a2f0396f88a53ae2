import 'server-only';
import { z } from 'zod';
import { chainHead } from '@/lib/audit/public';
import { type Actor, authorise } from '@/lib/platform/actor';
import { dayIn, dayOf, now } from '@/lib/platform/clock';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, notFound } from '@/lib/platform/errors';
import { cursorWhole, readCursor, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';
import { computeBook, termsOf } from '../book';
import { digestReport } from '../digest';
import { findFinderNames, findTimeZone } from '../repo/ledger';
import { type FoundReport, findEditions, findFrozen, findReport } from '../repo/reports';
import { diffReports } from '../rules/differences';
import { selectLines } from '../rules/lines';
import { checkReadyToSign } from '../rules/warnings';
import {
  CERTIFICATION,
  explanations as explanationsShape,
  type FrozenReport,
  frozenReport,
  type ReportLine,
  type SalvageReport,
} from '../schema';
import { FINDER_ON_FILE } from '../stock';
import type { LinePage, LineQuery, ReportCheck, ReportRecord } from '../wire';
import { toDifference, toRows } from './shapes';

export const isSigned = ({ state }: Pick<FoundReport, 'state'>): boolean =>
  state === 'signed' || state === 'amended';

/** A report and its book: as it was signed, or, while it is open, as the database gives it now. */
export type OpenedReport = { found: FoundReport } & Book;
type Book = { report: SalvageReport; frozen: FrozenReport | null };

/**
 * A few books in memory, some still in the making: a page asks for the same one for its head, its lines and its files,
 * and many readers who come at once wait for one making.
 */
const kept = new Map<string, Promise<Book>>();
const KEPT_BOOKS = 4;

/** @throws AppError not-found. */
export async function openedReport(actor: Actor, id: string): Promise<OpenedReport> {
  const found = await findReport(db(), actor.collectionId, id);
  if (found === null) throw notFound(say('This report'));
  // While it is open, every change of the collection moves the audit chain, and may change the book.
  const at = found.digest ?? `${found.version} ${(await chainHead(actor.collectionId)).seq}`;
  const key = `${id} ${at}`;
  let book = kept.get(key);
  if (book === undefined) {
    book = makeBook(found);
    for (const old of [...kept.keys()].slice(0, Math.max(0, kept.size - KEPT_BOOKS + 1))) kept.delete(old);
    kept.set(key, book);
    book.catch(() => kept.delete(key));
  }
  return { found, ...(await book) };
}

async function makeBook(found: FoundReport): Promise<Book> {
  const frozen = isSigned(found) ? await readFrozen(db(), found.id) : null;
  return { frozen, report: frozen?.report ?? (await computeBook(db(), found, now())) };
}

const readFrozen = async (tx: Tx, id: string): Promise<FrozenReport> =>
  frozenReport.parse(await findFrozen(tx, id));

export async function showReport(actor: Actor, id: string): Promise<ReportRecord> {
  authorise(actor, 'reports.see');
  return toRecord(db(), actor, await openedReport(actor, id));
}

/** A report as its readers see it, with what this one may do next. */
export async function toRecord(tx: Tx, actor: Actor, opened: OpenedReport): Promise<ReportRecord> {
  const { found, report, frozen } = opened;
  const editions = await toRows(tx, await findEditions(tx, found));
  const row = editions.find(({ id }) => id === found.id);
  if (row === undefined) throw notFound(say('This report'));
  const before = editions.find(({ edition }) => edition === found.edition - 1);
  const explanations = explanationsShape.parse(found.explanations);
  const { unexplained } = unexplainedOf(report, explanations);
  const obstacle = await obstacleToSign(tx, found);
  const { lines, movements: _, ...shown } = report;
  const mayMake = may(actor, 'reports.make');
  const [open, ready] = [found.state === 'open', found.state === 'ready'];
  return {
    ...row,
    version: found.version,
    amendReason: found.amendReason,
    report: shown,
    lineCount: lines.length,
    explanations,
    unexplained: unexplained.length,
    certification: CERTIFICATION,
    obstacle,
    digest: found.digest,
    auditHead: frozen?.auditHead ?? null,
    editions: editions.map(({ id, edition, state, signedAt }) => ({ id, edition, state, signedAt })),
    difference:
      before === undefined
        ? null
        : toDifference(diffReports((await readFrozen(tx, before.id)).report, report)),
    abilities: {
      explain: mayMake && (open || ready),
      ready: mayMake && open && unexplained.length === 0,
      sign: may(actor, 'reports.sign') && ready && unexplained.length === 0 && obstacle === null,
      amend: mayMake && found.state === 'signed',
    },
  };
}

export function unexplainedOf(report: SalvageReport, explanations: ReportRecord['explanations']) {
  const texts = Object.fromEntries(Object.entries(explanations).map(([id, { text }]) => [id, text]));
  return checkReadyToSign(report.warnings, texts);
}

/** A year that still runs can change: it is signed when it, or the permit, has ended. */
export async function obstacleToSign(tx: Tx, found: FoundReport): Promise<string | null> {
  if (isSigned(found)) return null;
  const today = dayIn(await findTimeZone(tx, found.collectionId), now());
  const { expiresOn } = termsOf(found.permit);
  const untilOn = dayOf(found.toOn);
  const endsOn = expiresOn !== null && expiresOn < untilOn ? expiresOn : untilOn;
  return today > endsOn
    ? null
    : say('The period still runs until {endsOn}; the report is signed after it.', { endsOn });
}

/** The lines behind a number, a page at a time; finders by name for those who may see them. */
export async function listLines(actor: Actor, id: string, query: LineQuery): Promise<LinePage> {
  authorise(actor, 'reports.see');
  const { report } = await openedReport(actor, id);
  const { size, after, ...filter } = query;
  const from = after === undefined ? 0 : readCursor(after, z.tuple([cursorWhole.nonnegative()]))[0];
  const { lines, counted } = selectLines(report, filter);
  const rows = lines.slice(from, from + size);
  return {
    rows: await withFinders(actor, rows),
    next: from + size < lines.length ? writeCursor([from + size]) : null,
    total: lines.length,
    from: from + 1,
    counted,
  };
}

/** Lines with the names of finders on file, for readers who may see them; for all others as they are. */
export async function withFinders(actor: Actor, lines: ReportLine[]): Promise<ReportLine[]> {
  if (!may(actor, 'finder.see')) return lines;
  const onFile = lines.filter(({ salvager }) => salvager === FINDER_ON_FILE).map(({ birdId }) => birdId);
  const names = await findFinderNames(db(), actor.collectionId, onFile);
  return lines.map((line) => ({ ...line, salvager: names.get(line.birdId) ?? line.salvager }));
}

/** A signed report against its own digest, and against the database as it is now. */
export async function checkReport(actor: Actor, id: string): Promise<ReportCheck> {
  authorise(actor, 'reports.see');
  const found = await findReport(db(), actor.collectionId, id);
  if (found === null) throw notFound(say('This report'));
  if (!isSigned(found))
    throw conflict(say('This report is not signed yet: it is always read from the database.'));
  const frozen = await readFrozen(db(), id);
  const checkedAt = now();
  const difference = diffReports(frozen.report, await computeBook(db(), found, checkedAt));
  return {
    checkedAt: checkedAt.toISOString(),
    digestHolds: digestReport(frozen) === found.digest,
    stillTrue: difference.same,
    difference: toDifference(difference),
  };
}
