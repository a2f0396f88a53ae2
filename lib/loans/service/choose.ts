import 'server-only';
import { authorise, type CommandContext } from '@/lib/platform/actor';
import { conflict, notFound, notValid, staleVersion } from '@/lib/platform/errors';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { labelOf } from '@/lib/storage/public';
import { loanEvents } from '../events';
import { lockLoan, replaceLines, updateLoan } from '../repo/loans';
import { lockMaterials } from '../repo/materials';
import { mayChoose } from '../rules';
import type { ChooseMaterialsRequest } from '../schema';
import type { LoanRecord } from '../wire';
import { loadLoan, problemsOf, recordOf } from './record';

/**
 * Says which materials a request means, instead of those it had: for what somebody outside asked for, and while it is
 * not decided upon. All or none. @throws AppError not-valid, naming each material that cannot go
 */
export async function chooseMaterials(
  context: CommandContext,
  id: string,
  { version, materialIds }: ChooseMaterialsRequest,
): Promise<LoanRecord> {
  const { actor } = context;
  authorise(actor, 'loans.ask');
  return withTx(context, async (work) => {
    await lockLoan(work.db, actor.collectionId, id);
    const { loan, facts } = await loadLoan(work.db, actor, id);
    if (loan.version !== version) throw staleVersion(say('This loan'), await recordOf(work.db, actor, id));
    if (!mayChoose(facts.state))
      throw conflict(say('It is decided upon: its materials do not change any more.'));
    const ids = [...new Set(materialIds)];
    const materials = await lockMaterials(work.db, actor.collectionId, ids);
    if (materials.length !== ids.length) throw notFound(say('One of the chosen materials'));
    const kind = loan.kind === 'grant' ? 'grant' : 'loan';
    const problems = materials.flatMap((material) =>
      problemsOf(material, kind, id).map((problem) => ({
        path: `materialIds.${material.id}`,
        message: `${labelOf(material)}: ${problem}`,
      })),
    );
    if (problems.length > 0) throw notValid(say('Nothing was chosen.'), problems);
    await replaceLines(work.db, id, ids);
    if ((await updateLoan(work.db, { id, version, state: facts.state }, {})) === 0)
      throw staleVersion(say('This loan'), await recordOf(work.db, actor, id));
    work.audit(
      loanEvents.make(
        'loans.materials-chosen',
        { subjectType: 'loan', subjectId: id },
        { number: loan.number, materials: materials.map(labelOf) },
      ),
    );
    return recordOf(work.db, actor, id);
  });
}
