import { storageKeys } from '@/components/storage/queries';
import { StorageDesk } from '@/components/storage/storage-desk';
import { requireActor, titled, withQueries } from '@/lib/platform/page';
import { listCounts } from '@/lib/storage/service/inventory';
import { showTree } from '@/lib/storage/service/tree';

export const generateMetadata = titled('Storage');

export default async function StoragePage() {
  const actor = await requireActor('storage.see');
  return withQueries(
    [
      { key: storageKeys.tree, load: () => showTree(actor) },
      { key: storageKeys.counts, load: () => listCounts(actor) },
    ],
    <StorageDesk />,
  );
}
