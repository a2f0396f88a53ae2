import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';

const searchSettings = z.object({
  numbers: z.record(z.string(), z.string()).default({}),
  catalogue: z.object({ hemisphere: z.enum(['north', 'south']).default('north') }).prefault({}),
});

/** What the reading of the search box depends on: number templates, and which half of the Earth has its spring. */
export async function findSearchSettings(collectionId: string) {
  const { settings } = await db().collection.findUniqueOrThrow({ where: { id: collectionId } });
  const { numbers, catalogue } = searchSettings.parse(settings);
  return { numbers, hemisphere: catalogue.hemisphere };
}

const PAGE = 'catalogue';

/** A person's own saved views, and those that others shared. */
export const findViews = (collectionId: string, personId: string) =>
  db().savedView.findMany({
    where: { collectionId, page: PAGE, OR: [{ personId }, { shared: true }] },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
    take: 200,
  });

/** Saves a view, over an own one of the same name. */
export function saveView(
  tx: Tx,
  data: { collectionId: string; personId: string; name: string; query: string; shared: boolean },
) {
  const { collectionId, personId, name } = data;
  return tx.savedView.upsert({
    where: { collectionId_personId_page_name: { collectionId, personId, page: PAGE, name } },
    create: { ...data, page: PAGE },
    update: { query: data.query, shared: data.shared },
  });
}

/** Removes an own view; null when there is none. */
export async function removeView(tx: Tx, collectionId: string, personId: string, id: string) {
  const view = await tx.savedView.findFirst({ where: { id, collectionId, personId, page: PAGE } });
  if (view !== null) await tx.savedView.delete({ where: { id } });
  return view;
}
