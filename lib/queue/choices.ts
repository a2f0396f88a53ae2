import 'server-only';
import { type Actor, authorise, type CommandContext } from '@/lib/platform/actor';
import { now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { notValid, staleVersion } from '@/lib/platform/errors';
import { differences } from '@/lib/platform/events';
import { may } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { queueEvents } from './events';
import { priorityFacts, refreshPriorities } from './priorities';
import { countCatalogued, findAllQueued, findCollection, lockSettings, writeSettings } from './repo/birds';
import { previewWeights } from './rules/priority';
import { type QueueSettings, readQueueSettings } from './settings';
import type { QueueChoices, SettingsChange, WeightsAndScales, WeightsPreview } from './settings-wire';

const SHOWN = 20;

const choicesOf = ({ weights, scales, claims, plan, sizes }: QueueSettings): QueueChoices => ({
  weights,
  scales,
  claims,
  plan,
  leadHours: sizes.leadHours,
});

export async function showChoices(actor: Actor): Promise<{ choices: QueueChoices; mayChange: boolean }> {
  authorise(actor, 'plan.see');
  const collection = await findCollection(db(), actor.collectionId);
  return {
    choices: choicesOf(readQueueSettings(collection.settings)),
    mayChange: may(actor, 'plan.make'),
  };
}

/** Which queued birds would change places under other weights and scales, before anything is saved. */
export async function previewChoices(actor: Actor, proposal: WeightsAndScales): Promise<WeightsPreview> {
  authorise(actor, 'plan.make');
  const { collectionId } = actor;
  const [collection, birds] = await Promise.all([
    findCollection(db(), collectionId),
    findAllQueued(db(), collectionId),
  ]);
  const settings = readQueueSettings(collection.settings);
  const taxonIds = [...new Set(birds.flatMap(({ taxonId }) => taxonId ?? []))];
  const counts = await countCatalogued(db(), collectionId, taxonIds);
  const at = now();
  const facts = birds.map((bird) =>
    priorityFacts(bird, { at, catalogued: counts.get(bird.taxonId ?? '') ?? 0, settings }),
  );
  const { moved, unmoved } = previewWeights(
    facts,
    settings.weights,
    proposal.weights,
    settings.scales,
    proposal.scales,
  );
  return { moved: moved.slice(0, SHOWN), movedCount: moved.length, unmoved };
}

/**
 * Saves the queue's settings and ranks the queue by them, in one transaction.
 * @throws AppError stale-version with what stands now, when somebody else saved in between.
 */
export async function changeChoices(
  context: CommandContext,
  { from, to }: SettingsChange,
): Promise<{ choices: QueueChoices; mayChange: boolean }> {
  const { actor } = context;
  authorise(actor, 'plan.make');
  await withTx(context, async (work) => {
    const all = await lockSettings(work.db, actor.collectionId);
    const before = readQueueSettings(all);
    const current = choicesOf(before);
    if (Object.keys(changesBetween(current, from)).length > 0)
      throw staleVersion(say('These settings'), current);
    const changes = changesBetween(current, to);
    if (Object.keys(changes).length === 0) throw notValid(say('Nothing is different from what is saved.'));
    const { leadHours, ...rest } = to;
    const after: QueueSettings = { ...before, ...rest, sizes: { ...before.sizes, leadHours } };
    await writeSettings(work.db, actor.collectionId, { ...all, queue: after });
    const birds = await findAllQueued(work.db, actor.collectionId);
    await refreshPriorities(work, birds, after);
    work.audit(
      queueEvents.make(
        'queue.settings-changed',
        { subjectType: 'collection', subjectId: actor.collectionId },
        { changes, birds: birds.length },
      ),
    );
  });
  return showChoices(actor);
}

/** Differences figure by figure, named 'weights.condition'. */
function changesBetween(before: QueueChoices, after: QueueChoices) {
  return differences(flatten(before), flatten(after));
}

const flatten = (choices: QueueChoices): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries(choices).flatMap(([group, figures]) =>
      Object.entries(figures).map(([name, value]) => [`${group}.${name}`, value] as const),
    ),
  );
