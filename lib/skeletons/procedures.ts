import 'server-only';
import { createHash } from 'node:crypto';
import { type Actor, authorise, type CommandContext } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { type FieldProblem, notValid, staleVersion } from '@/lib/platform/errors';
import { may } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { skeletonEvents } from './events';
import { countInSteps, findSettings, lockSettings, writeSettings } from './repo';
import type { CleaningProcedure } from './rules/cleaning';
import type { ProcedureBook, SaveProceduresRequest } from './schema';
import { readSkeletonSettings } from './settings';

/** The lab's cleaning procedures. */
export async function showProcedures(actor: Actor): Promise<ProcedureBook> {
  authorise(actor, 'materials.see');
  return load(db(), actor);
}

/**
 * Changes the lab's procedures. Durations hold for steps begun from now on; a step in which something lies cannot go.
 * @throws AppError stale-version when somebody else changed them meanwhile; not-valid naming the steps in use.
 */
export async function saveProcedures(
  context: CommandContext,
  { stamp, procedures, reason }: SaveProceduresRequest,
): Promise<ProcedureBook> {
  const { actor } = context;
  authorise(actor, 'materials.manage');
  return withTx(context, async (work) => {
    const settings = readSkeletonSettings(await lockSettings(work.db, actor.collectionId));
    if (stampOf(settings.procedures) !== stamp) {
      throw staleVersion(say('These procedures'), await load(work.db, actor));
    }
    const problems = stepsInUseThatGo(procedures, await countInSteps(work.db, actor.collectionId));
    if (problems.length > 0) throw notValid(say('The procedures were not changed.'), problems);
    await writeSettings(work.db, actor.collectionId, { ...settings, procedures });
    work.audit(
      skeletonEvents.make(
        'skeletons.procedures-changed',
        { subjectType: 'collection', subjectId: actor.collectionId, reason },
        { procedures: procedures.map(({ name }) => name) },
      ),
    );
    return load(work.db, actor);
  });
}

function stepsInUseThatGo(
  procedures: readonly CleaningProcedure[],
  inUse: Readonly<Record<string, number>>,
): FieldProblem[] {
  const kept = new Set(procedures.flatMap(({ id, steps }) => steps.map((step) => `${id}/${step.id}`)));
  return Object.entries(inUse)
    .filter(([step]) => !kept.has(step))
    .map(([step, count]) => ({
      path: 'procedures',
      message: say('The step {replace} cannot go: {x} in it.', {
        replace: step.replace('/', ': '),
        x: count === 1 ? say('a skeleton is') : say('{count} skeletons are', { count }),
      }),
    }));
}

const stampOf = (procedures: readonly CleaningProcedure[]): string =>
  createHash('sha256').update(JSON.stringify(procedures)).digest('hex').slice(0, 16);

async function load(tx: Tx, actor: Actor): Promise<ProcedureBook> {
  const { procedures } = readSkeletonSettings(await findSettings(tx, actor.collectionId));
  return {
    procedures,
    stamp: stampOf(procedures),
    inUse: await countInSteps(tx, actor.collectionId),
    abilities: { change: may(actor, 'materials.manage') },
  };
}
