import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { notFound } from '@/lib/platform/errors';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { catalogueEvents } from '../events';
import { findViews, removeView, saveView } from '../repo/views';
import type { SaveViewRequest } from '../schema';
import type { SavedView } from '../wire';

/** The actor's saved views and those that colleagues shared. */
export async function listViews(actor: Actor): Promise<{ views: SavedView[] }> {
  authorise(actor, 'catalogue.see');
  const me = personOf(actor);
  const views = await findViews(actor.collectionId, me);
  return {
    views: views.map(({ id, name, query, shared, personId }) => ({
      id,
      name,
      query,
      shared,
      own: personId === me,
    })),
  };
}

/** Keeps a search under a name; the same name again replaces it. */
export async function keepView(
  context: CommandContext,
  request: SaveViewRequest,
): Promise<{ views: SavedView[] }> {
  const { actor } = context;
  authorise(actor, 'catalogue.see');
  await withTx(context, async (work) => {
    const view = await saveView(work.db, {
      ...request,
      collectionId: actor.collectionId,
      personId: personOf(actor),
    });
    work.audit(
      catalogueEvents.make(
        'catalogue.view-saved',
        { subjectType: 'saved-view', subjectId: view.id },
        { name: request.name, shared: request.shared },
      ),
    );
  });
  return listViews(actor);
}

/** Removes one of the actor's own views. */
export async function dropView(context: CommandContext, id: string): Promise<{ views: SavedView[] }> {
  const { actor } = context;
  authorise(actor, 'catalogue.see');
  await withTx(context, async (work) => {
    const view = await removeView(work.db, actor.collectionId, personOf(actor), id);
    if (view === null) throw notFound(say('This view'));
    work.audit(
      catalogueEvents.make(
        'catalogue.view-removed',
        { subjectType: 'saved-view', subjectId: id },
        { name: view.name },
      ),
    );
  });
  return listViews(actor);
}
