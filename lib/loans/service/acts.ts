import 'server-only';
import { authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { dateColumn } from '@/lib/platform/clock';
import { conflict, forbidden, notValid, staleVersion } from '@/lib/platform/errors';
import type { AuditDraft, Work } from '@/lib/platform/tx';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { changeCustody, labelOf } from '@/lib/storage/public';
import { loanEvents } from '../events';
import { ACT_PERMISSION, isDecision } from '../policy';
import { findCollection, type LoanPatch, lockLoan, updateLine, updateLoan } from '../repo/loans';
import { lockMaterials } from '../repo/materials';
import { type LoanAct, loanBalance, mayExtend, moveLoan } from '../rules';
import {
  type DocumentsRequest,
  type ExtendRequest,
  extensionSchema,
  type LoanActRequest,
  type LoanState,
  loanKindSchema,
  type PackRequest,
  type ReceiveRequest,
  type SendRequest,
} from '../schema';
import { readLoanSettings } from '../settings';
import type { LoanRecord } from '../wire';
import { type LoadedLoan, loadLoan, mayAct, problemsOf, recordOf } from './record';
import { instantOn, sayBalance } from './words';

type Step = (work: Work, loaded: LoadedLoan) => Promise<{ patch: LoanPatch; event: AuditDraft }>;

/**
 * The way of every act on a loan: lock it, ask the roles and the one table, do the step, change the loan if it is still
 * as it was seen, write the event. @throws AppError forbidden for one's own request; conflict with the rule's reason;
 * stale-version with the loan as it is now.
 * @param given what the request itself brings to the rule
 */
export async function actOnLoan(
  context: CommandContext,
  id: string,
  act: LoanAct,
  version: number,
  step: Step,
  given: { dueOn?: string } = {},
): Promise<LoanRecord> {
  const { actor } = context;
  authorise(actor, ACT_PERMISSION[act]);
  return withTx(context, async (work) => {
    await lockLoan(work.db, actor.collectionId, id);
    const loaded = await loadLoan(work.db, actor, id);
    const { loan, facts } = loaded;
    if (!mayAct(actor, act, loan.askedById))
      throw forbidden(
        isDecision(act)
          ? say('Nobody decides on their own request: another curator must.')
          : say('Your roles do not allow this.'),
      );
    if (loan.version !== version) throw staleVersion(say('This loan'), await recordOf(work.db, actor, id));
    const move = moveLoan({ ...facts, ...given }, act, personOf(actor));
    if (!move.ok) throw conflict(move.reason);
    const { patch, event } = await step(work, loaded);
    const where = { id, version, state: facts.state };
    if ((await updateLoan(work.db, where, { state: move.to, ...patch })) === 0)
      throw staleVersion(say('This loan'), await recordOf(work.db, actor, id));
    work.audit(event);
    return recordOf(work.db, actor, id);
  });
}

const subjectOf = ({ loan }: LoadedLoan, reason?: string | null) => ({
  subjectType: 'loan',
  subjectId: loan.id,
  reason,
});

type PlainKind =
  | 'loans.taken-into-review'
  | 'loans.granted'
  | 'loans.declined'
  | 'loans.withdrawn'
  | 'loans.unpacked';

/** An act that changes the state and little else. */
const plain =
  (kind: PlainKind, request: LoanActRequest, patchOf: (work: Work) => LoanPatch = () => ({})): Step =>
  async (work, loaded) => ({
    patch: patchOf(work),
    event: loanEvents.make(kind, subjectOf(loaded, request.note), { number: loaded.loan.number }),
  });

export const takeIntoReview = (context: CommandContext, id: string, request: LoanActRequest) =>
  actOnLoan(context, id, 'take-into-review', request.version, plain('loans.taken-into-review', request));

const decision = (request: LoanActRequest) => (work: Work) => ({
  decidedById: personOf(work.actor),
  decidedAt: work.now,
  decisionNote: request.note ?? null,
});

export const grantLoan = (context: CommandContext, id: string, request: LoanActRequest) =>
  actOnLoan(context, id, 'grant', request.version, plain('loans.granted', request, decision(request)));

export const declineLoan = (context: CommandContext, id: string, request: LoanActRequest) =>
  actOnLoan(context, id, 'decline', request.version, plain('loans.declined', request, decision(request)));

export const withdrawLoan = (context: CommandContext, id: string, request: LoanActRequest) =>
  actOnLoan(
    context,
    id,
    'withdraw',
    request.version,
    plain('loans.withdrawn', request, (work) => ({ closedAt: work.now })),
  );

export const unpackLoan = (context: CommandContext, id: string, request: LoanActRequest) =>
  actOnLoan(
    context,
    id,
    'unpack',
    request.version,
    plain('loans.unpacked', request, () => ({ packedAt: null })),
  );

/** What cannot leave now, each with its reason. */
async function refuseUnfit(work: Work, { loan }: LoadedLoan): Promise<void> {
  const materials = await lockMaterials(
    work.db,
    work.actor.collectionId,
    loan.lines.map(({ materialId }) => materialId),
  );
  const kind = loanKindSchema.parse(loan.kind);
  const problems = materials.flatMap((material) =>
    problemsOf(material, kind, loan.id).map((problem) => ({
      path: `materials.${material.id}`,
      message: `${labelOf(material)}: ${problem}`,
    })),
  );
  if (problems.length > 0) throw notValid(say('It cannot go like this.'), problems);
}

/** Packs: every line with its condition, and the terms that go with the box. */
export function packLoan(context: CommandContext, id: string, request: PackRequest): Promise<LoanRecord> {
  return actOnLoan(context, id, 'pack', request.version, async (work, loaded) => {
    const { loan } = loaded;
    await refuseUnfit(work, loaded);
    const conditions = new Map(request.lines.map((line) => [line.lineId, line.conditionOut]));
    const silent = loan.lines.filter((line) => !conditions.has(line.id) && line.conditionOut === null);
    if (silent.length > 0)
      throw notValid(
        say('It was not packed.'),
        silent.map((line) => ({
          path: `lines.${line.id}`,
          message: say('{labelOf}: say in what condition it goes out.', { labelOf: labelOf(line.material) }),
        })),
      );
    for (const line of loan.lines) {
      const conditionOut = conditions.get(line.id);
      if (conditionOut !== undefined) await updateLine(work.db, line.id, { conditionOut });
    }
    return {
      patch: {
        packedAt: work.now,
        ...(request.conditions == null ? {} : { conditions: request.conditions }),
      },
      event: loanEvents.make('loans.packed', subjectOf(loaded), {
        number: loan.number,
        materials: loan.lines.map(({ material }) => labelOf(material)),
      }),
    };
  });
}

/** Sends: every material goes off its shelf, and the loan remembers where it lay. */
export function sendLoan(context: CommandContext, id: string, request: SendRequest): Promise<LoanRecord> {
  const step: Step = async (work, loaded) => {
    const { loan, today } = loaded;
    const { on, dueOn } = request;
    const problems = [
      ...(on > today ? [{ path: 'on', message: say('That day has not come yet.') }] : []),
      ...(dueOn <= on ? [{ path: 'dueOn', message: say('It is due back after it was sent.') }] : []),
    ];
    if (problems.length > 0) throw notValid(say('It was not sent.'), problems);
    await refuseUnfit(work, loaded);
    const sentAt = instantOn(on, loaded, work.now);
    const { borrower } = loan;
    for (const line of loan.lines) {
      const { material } = line;
      await changeCustody(work, { materialId: material.id, from: 'on-shelf', to: 'on-loan' });
      await updateLine(work.db, line.id, {
        sentAt,
        shelfUnitId: material.placement?.unitId ?? null,
        shelfPosition: material.placement?.position ?? null,
      });
      work.audit(
        loanEvents.make(
          'loans.material-sent',
          { subjectType: 'material', subjectId: material.id, birdId: material.birdId },
          { loan: loan.number, material: labelOf(material), borrower: borrower.institution },
        ),
      );
    }
    return {
      patch: { sentAt, dueOn: dateColumn(dueOn) },
      event: loanEvents.make('loans.sent', subjectOf(loaded), { number: loan.number, on, dueOn }),
    };
  };
  return actOnLoan(context, id, 'send', request.version, step, { dueOn: request.dueOn });
}

/** The borrower says that it arrived. */
export function confirmReceipt(
  context: CommandContext,
  id: string,
  request: ReceiveRequest,
): Promise<LoanRecord> {
  return actOnLoan(context, id, 'confirm-receipt', request.version, async (work, loaded) => {
    const sentOn = loaded.lines[0]?.sentOn;
    if (request.on > loaded.today || (sentOn && request.on < sentOn))
      throw notValid(say('It was not saved.'), [
        { path: 'on', message: say('It was sent on {sentOn} and cannot have arrived then.', { sentOn }) },
      ]);
    return {
      patch: { receivedAt: instantOn(request.on, loaded, work.now) },
      event: loanEvents.make('loans.received', subjectOf(loaded, request.note), {
        number: loaded.loan.number,
        on: request.on,
      }),
    };
  });
}

/** A later due date, as it was asked for in writing. */
export function extendLoan(context: CommandContext, id: string, request: ExtendRequest): Promise<LoanRecord> {
  return actOnLoan(context, id, 'extend', request.version, async (work, loaded) => {
    const { loan, facts } = loaded;
    const { terms } = readLoanSettings((await findCollection(work.db, loan.collectionId)).settings);
    const extensions = extensionSchema.array().parse(loan.extensions);
    const { askedOn, toDueOn, reason } = request;
    const verdict = mayExtend({ ...facts, extensions }, { askedOn, toDueOn }, terms);
    if (!verdict.ok)
      throw notValid(say('It was not extended.'), [{ path: 'toDueOn', message: verdict.reason }]);
    const from = facts.dueOn ?? '';
    const extension = { askedOn, fromDueOn: from, toDueOn, decidedById: personOf(work.actor), reason };
    return {
      patch: { dueOn: dateColumn(toDueOn), extensions: [...extensions, extension] },
      event: loanEvents.make('loans.extended', subjectOf(loaded, reason), {
        number: loan.number,
        from,
        to: toDueOn,
        askedOn,
        note: verdict.note,
      }),
    };
  });
}

/** Closes a loan of which nothing is out any more. */
export function closeLoan(context: CommandContext, id: string, request: LoanActRequest): Promise<LoanRecord> {
  return actOnLoan(context, id, 'close', request.version, async (work, loaded) => ({
    patch: { closedAt: work.now },
    event: loanEvents.make('loans.closed', subjectOf(loaded, request.note), {
      number: loaded.loan.number,
      balance: sayBalance(loanBalance(loaded.lines)),
    }),
  }));
}

const BEFORE_SENT: readonly LoanState[] = ['asked', 'in-review', 'granted', 'packed'];

/** Says what the parcel is and which papers are there; until it leaves. */
export async function setDocuments(
  context: CommandContext,
  id: string,
  { version, parcel, documents }: DocumentsRequest,
): Promise<LoanRecord> {
  const { actor } = context;
  authorise(actor, 'loans.execute');
  return withTx(context, async (work) => {
    await lockLoan(work.db, actor.collectionId, id);
    const loaded = await loadLoan(work.db, actor, id);
    const { state } = loaded.facts;
    if (!BEFORE_SENT.includes(state))
      throw conflict(say('The parcel has left: its papers stay as they were sent.'));
    if ((await updateLoan(work.db, { id, version, state }, { parcel, documents })) === 0)
      throw staleVersion(say('This loan'), await recordOf(work.db, actor, id));
    work.audit(
      loanEvents.make('loans.documents-set', subjectOf(loaded), { number: loaded.loan.number, documents }),
    );
    return recordOf(work.db, actor, id);
  });
}
