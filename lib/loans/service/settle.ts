import 'server-only';
import { type CommandContext, personOf } from '@/lib/platform/actor';
import { conflict, notValid } from '@/lib/platform/errors';
import type { Work } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { advanceMaterial, changeCustody, labelOf, moveMaterial } from '@/lib/storage/public';
import { type Amount, consumeFromVial, type VialState } from '@/lib/tissues/public';
import { loanEvents } from '../events';
import { type FoundLine, updateLine } from '../repo/loans';
import { findTaken, recordVialUse } from '../repo/materials';
import { loanBalance, settleLines } from '../rules';
import { loanKindSchema, type SettleRequest } from '../schema';
import type { LoanRecord } from '../wire';
import { actOnLoan } from './acts';
import type { LoadedLoan } from './record';
import { instantOn, sayBalance } from './words';

type Settled = SettleRequest['lines'][number];

/**
 * Takes lines back: returned to a shelf, consumed (a grant), or lost; all or none. When nothing is out any more the loan
 * is closed. @throws AppError conflict with the rule's reason; not-valid when a shelf place is taken meanwhile.
 */
export function settleLoan(context: CommandContext, id: string, request: SettleRequest): Promise<LoanRecord> {
  return actOnLoan(context, id, 'take-back', request.version, async (work, loaded) => {
    const { loan, lines, facts, today } = loaded;
    const early = request.lines.findIndex(({ on }) => on > today);
    if (early >= 0)
      throw notValid(say('Nothing was taken back.'), [
        { path: `lines.${early}.on`, message: say('That day has not come yet.') },
      ]);
    const kind = loanKindSchema.parse(loan.kind);
    const verdict = settleLines({ state: facts.state, kind, lines }, request.lines);
    if (!verdict.ok) throw conflict(verdict.reason);
    const byId = new Map(loan.lines.map((line) => [line.id, line]));
    const ordered = request.lines
      .map((settled, index) => ({ settled, index, line: byId.get(settled.lineId) }))
      .sort((a, b) => (a.line?.materialId ?? '').localeCompare(b.line?.materialId ?? ''));
    for (const { settled, index, line } of ordered)
      if (line !== undefined) await settleLine(work, loaded, line, settled, index);
    const balance = loanBalance(verdict.lines);
    return {
      patch: { state: verdict.to, ...(verdict.to === 'closed' ? { closedAt: work.now } : {}) },
      event: loanEvents.make(
        'loans.lines-settled',
        { subjectType: 'loan', subjectId: id },
        {
          number: loan.number,
          lines: request.lines.flatMap(({ lineId, outcome, on }) => {
            const line = byId.get(lineId);
            return line ? [{ material: labelOf(line.material), outcome, on }] : [];
          }),
          balance: sayBalance(balance),
        },
      ),
    };
  });
}

async function settleLine(
  work: Work,
  loaded: LoadedLoan,
  line: FoundLine,
  settled: Settled,
  index: number,
): Promise<void> {
  const { material } = line;
  const { outcome, conditionIn = null, note = null } = settled;
  if (outcome === 'returned') await returnMaterial(work, loaded, line, settled, index);
  else if (outcome === 'consumed') await consumeMaterial(work, loaded, line);
  else {
    await changeCustody(work, { materialId: material.id, from: 'on-loan', to: 'missing' });
    if (material.kind === 'vial')
      await advanceMaterial(work, { materialId: material.id, from: material.state, to: 'lost' });
  }
  await updateLine(work.db, line.id, {
    outcome,
    outcomeAt: instantOn(settled.on, loaded, work.now),
    conditionIn,
    outcomeNote: note,
  });
  work.audit(
    loanEvents.make(
      'loans.material-settled',
      { subjectType: 'material', subjectId: material.id, birdId: material.birdId, reason: note },
      { loan: loaded.loan.number, material: labelOf(material), outcome, condition: conditionIn },
    ),
  );
}

async function returnMaterial(
  work: Work,
  loaded: LoadedLoan,
  line: FoundLine,
  { amountUsed, backTo }: Settled,
  index: number,
): Promise<void> {
  const { material } = line;
  await changeCustody(work, { materialId: material.id, from: 'on-loan', to: 'on-shelf' });
  if (amountUsed != null) await takeFromVial(work, loaded, line, { amountUsed, index });
  const lay = line.shelfUnitId === null ? null : { unitId: line.shelfUnitId, position: line.shelfPosition };
  const to = backTo === 'not-yet' ? null : backTo === 'where-it-lay' ? lay : backTo;
  if (to === null) return;
  const taken = await findTaken(work.db, to.unitId, to.position);
  if (taken !== null)
    throw notValid(say('Nothing was taken back.'), [
      {
        path: `lines.${index}.backTo`,
        message: say(
          '{labelOf}: its place is taken by {labelOf2} meanwhile. Choose another place, or put it away later.',
          { labelOf: labelOf(material), labelOf2: labelOf(taken) },
        ),
      },
    ]);
  await moveMaterial(work, {
    materialId: material.id,
    to,
    reason: `back from loan ${loaded.loan.number}`,
  });
}

async function takeFromVial(
  work: Work,
  { loan }: LoadedLoan,
  { material }: FoundLine,
  { amountUsed, index }: { amountUsed: number; index: number },
): Promise<void> {
  const { vial } = material;
  const refuse = (message: string) =>
    notValid(say('Nothing was taken back.'), [{ path: `lines.${index}.amountUsed`, message }]);
  if (vial === null)
    throw refuse(say('{labelOf} is no vial: nothing is measured out of it.', { labelOf: labelOf(material) }));
  if (vial.amountLeft === null)
    throw refuse(
      say('{labelOf} was never measured: write on the vial how much there was first.', {
        labelOf: labelOf(material),
      }),
    );
  const unit = vial.amountUnit as Amount['unit'];
  const left = consumeFromVial(
    {
      suffix: material.suffix,
      amount: { value: vial.amountLeft, unit },
      state: material.state as VialState,
      thawCount: vial.thawCount,
    },
    { value: amountUsed, unit },
  );
  if (!left.ok) throw refuse(`${labelOf(material)}: ${left.message}`);
  if (left.value.state === 'used-up')
    throw refuse(
      say('{labelOf}: then nothing came back; say that it was consumed.', { labelOf: labelOf(material) }),
    );
  await recordVialUse(work.db, {
    vialId: material.id,
    amount: amountUsed,
    unit,
    left: left.value.amount.value,
    purpose: `Grant ${loan.number}`,
    usedAt: work.now,
    usedById: personOf(work.actor),
  });
  await advanceMaterial(work, { materialId: material.id, from: material.state, to: left.value.state });
}

/** A material that the borrower used up for good. */
async function consumeMaterial(work: Work, { loan }: LoadedLoan, { material }: FoundLine): Promise<void> {
  const { vial } = material;
  await changeCustody(work, { materialId: material.id, from: 'on-loan', to: 'used-up' });
  if (vial === null) return;
  const { amountLeft, amountUnit } = vial;
  if (amountLeft !== 0)
    await recordVialUse(work.db, {
      vialId: material.id,
      amount: amountLeft,
      unit: amountLeft === null ? null : amountUnit,
      left: amountLeft === null ? null : 0,
      purpose: `Grant ${loan.number}`,
      usedAt: work.now,
      usedById: personOf(work.actor),
    });
  await advanceMaterial(work, { materialId: material.id, from: material.state, to: 'used-up' });
}
