import 'server-only';
import { chainHead } from '@/lib/audit/public';
import { authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { dateColumn, dayIn, dayOf } from '@/lib/platform/clock';
import { conflict, notFound, notValid, staleVersion } from '@/lib/platform/errors';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { computeBook, termsOf } from '../book';
import { digestReport } from '../digest';
import { reportEvents } from '../events';
import { findTimeZone } from '../repo/ledger';
import {
  type FoundReport,
  findEditions,
  findPermit,
  findReport,
  insertReport,
  updateReport,
} from '../repo/reports';
import { reportPeriod } from '../rules/periods';
import {
  CERTIFICATION,
  explanations as explanationsShape,
  type FrozenReport,
  type SalvageReport,
} from '../schema';
import type { AmendReportRequest, ExplainRequest, OpenReportRequest, ReportRecord } from '../wire';
import { obstacleToSign, toRecord, unexplainedOf } from './record';

const subjectOf = (id: string, reason?: string) => ({ subjectType: 'report', subjectId: id, reason });

const factsOf = (found: FoundReport) => ({
  permit: found.permit.number,
  fromOn: dayOf(found.fromOn),
  untilOn: dayOf(found.toOn),
  edition: found.edition,
});

/** Opens the report of a permit for the year that holds a day. @throws AppError conflict when there is one already. */
export async function openReport(
  context: CommandContext,
  { permitId, onDay }: OpenReportRequest,
): Promise<ReportRecord> {
  const { actor } = context;
  authorise(actor, 'reports.make');
  return withTx(context, async (work) => {
    const permit = await findPermit(work.db, actor.collectionId, permitId);
    if (permit === null) throw notFound(say('This permit'));
    const terms = termsOf(permit);
    const period = reportPeriod(terms, onDay);
    const today = dayIn(await findTimeZone(work.db, actor.collectionId), work.now);
    if (period.fromOn > today || period.untilOn < terms.effectiveOn) {
      const message = say('Permit {number} has no year that holds this day and has begun.', {
        number: permit.number,
      });
      throw notValid(say('The report was not opened.'), [{ path: 'onDay', message }]);
    }
    const dates = { fromOn: dateColumn(period.fromOn), toOn: dateColumn(period.untilOn) };
    const [first] = await findEditions(work.db, { permitId, ...dates });
    if (first !== undefined)
      throw conflict(say('There is a report of this permit and year.'), { id: first.id });
    const made = await insertReport(work.db, {
      collectionId: actor.collectionId,
      permitId,
      ...dates,
      createdById: personOf(actor),
    });
    work.audit(reportEvents.make('reports.opened', subjectOf(made.id), factsOf(made)));
    return answer(work, made);
  });
}

/** Explains warnings in writing; a later explanation replaces the earlier one, which the history keeps. */
export async function explainWarnings(
  context: CommandContext,
  id: string,
  { version, warningIds, text }: ExplainRequest,
): Promise<ReportRecord> {
  authorise(context.actor, 'reports.make');
  return withTx(context, async (work) => {
    const found = await findUnsigned(work, id);
    const report = await computeBook(work.db, found, work.now);
    const asked = new Set(warningIds);
    const warnings = report.warnings.filter((known) => asked.has(known.id));
    if (warnings.length !== asked.size) throw notFound(say('One of these warnings'));
    const written = { text, by: context.actor.name, at: work.now.toISOString() };
    const explanations = {
      ...explanationsShape.parse(found.explanations),
      ...Object.fromEntries(warnings.map((warning) => [warning.id, written])),
    };
    await change(work, found, version, ['open', 'ready'], { explanations });
    for (const { message } of warnings) {
      work.audit(
        reportEvents.make('reports.explained', subjectOf(id), { ...factsOf(found), warning: message, text }),
      );
    }
    return answer(work, found, report);
  });
}

/** The figures are checked: the report waits for a signature. */
export async function markReportReady(
  context: CommandContext,
  id: string,
  { version }: { version: number },
): Promise<ReportRecord> {
  authorise(context.actor, 'reports.make');
  return withTx(context, async (work) => {
    const found = await findUnsigned(work, id);
    const report = await computeBook(work.db, found, work.now);
    refuseUnexplained(found, report, say('The report is not ready.'));
    await change(work, found, version, ['open'], { state: 'ready' });
    work.audit(reportEvents.make('reports.made-ready', subjectOf(id), factsOf(found)));
    return answer(work, found, report);
  });
}

/**
 * Signs a report: the book, the explanations, the certification and the end of the audit chain are frozen under one
 * digest. @throws AppError not-valid with every warning that is still unexplained.
 */
export async function signReport(
  context: CommandContext,
  id: string,
  { version }: { version: number },
): Promise<ReportRecord> {
  const { actor } = context;
  authorise(actor, 'reports.sign');
  const auditHead = await chainHead(actor.collectionId);
  return withTx(context, async (work) => {
    const found = await findUnsigned(work, id);
    if (found.state !== 'ready') throw conflict(say('The report must be marked ready before it is signed.'));
    const obstacle = await obstacleToSign(work.db, found);
    if (obstacle !== null) throw notValid(obstacle);
    const report = await computeBook(work.db, found, work.now);
    refuseUnexplained(found, report, say('The report was not signed.'));
    const frozen: FrozenReport = {
      edition: found.edition,
      amendReason: found.amendReason,
      report,
      explanations: explanationsShape.parse(found.explanations),
      certification: { text: CERTIFICATION, signer: actor.name, signedAt: work.now.toISOString() },
      auditHead,
    };
    const digest = digestReport(frozen);
    await change(work, found, version, ['ready'], {
      state: 'signed',
      frozen,
      digest,
      signedById: personOf(actor),
      signedAt: work.now,
    });
    work.audit(
      reportEvents.make('reports.signed', subjectOf(id), {
        ...factsOf(found),
        digest,
        birds: report.lines.length,
        onHand: report.total.onHand,
      }),
    );
    return answer(work, found, report, frozen);
  });
}

/** Opens a new edition of a signed report, with the reason; the signed one stays as it is, marked as amended. */
export async function amendReport(
  context: CommandContext,
  id: string,
  { version, reason }: AmendReportRequest,
): Promise<ReportRecord> {
  const { actor } = context;
  authorise(actor, 'reports.make');
  return withTx(context, async (work) => {
    const found = await findReport(work.db, actor.collectionId, id);
    if (found === null) throw notFound(say('This report'));
    if (found.state !== 'signed') throw conflict(say('Only a signed report that stands can be amended.'));
    await change(work, found, version, ['signed'], { state: 'amended' });
    const made = await insertReport(work.db, {
      collectionId: actor.collectionId,
      permitId: found.permitId,
      fromOn: found.fromOn,
      toOn: found.toOn,
      edition: found.edition + 1,
      amendReason: reason,
      explanations: explanationsShape.parse(found.explanations),
      createdById: personOf(actor),
    });
    const payload = { ...factsOf(made), replaces: found.edition };
    for (const edition of [found, made]) {
      work.audit(reportEvents.make('reports.amended', subjectOf(edition.id, reason), payload));
    }
    return answer(work, made);
  });
}

async function findUnsigned(work: Work, id: string): Promise<FoundReport> {
  const found = await findReport(work.db, work.actor.collectionId, id);
  if (found === null) throw notFound(say('This report'));
  if (found.state === 'signed' || found.state === 'amended') {
    throw conflict(say('This report is signed and frozen; amend it with a reason.'));
  }
  return found;
}

function refuseUnexplained(found: FoundReport, report: SalvageReport, sentence: string): void {
  const { unexplained } = unexplainedOf(report, explanationsShape.parse(found.explanations));
  if (unexplained.length === 0) return;
  throw notValid(
    say('{sentence} Explain every warning first.', { sentence }),
    unexplained.map(({ id, message }) => ({ path: `warnings.${id}`, message })),
  );
}

async function change(
  work: Work,
  found: FoundReport,
  version: number,
  states: string[],
  data: Parameters<typeof updateReport>[2],
): Promise<void> {
  const changed = await updateReport(work.db, { id: found.id, version, state: { in: states } }, data);
  if (changed === 0) throw staleVersion(say('This report'), await answer(work, found));
}

/** The report as it stands after the command (or, in vain, before it). */
async function answer(
  work: Work,
  { id }: Pick<FoundReport, 'id'>,
  report?: SalvageReport,
  frozen: FrozenReport | null = null,
): Promise<ReportRecord> {
  const found = await findReport(work.db, work.actor.collectionId, id);
  if (found === null) throw notFound(say('This report'));
  const book = report ?? (await computeBook(work.db, found, work.now));
  return toRecord(work.db, work.actor, { found, report: book, frozen });
}
