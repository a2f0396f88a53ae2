import { notFound } from 'next/navigation';
import { ImportPage } from '@/components/exchange/import-page';
import { exchangeKeys } from '@/components/exchange/queries';
import { showImport } from '@/lib/exchange/service/imports';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Import');

export default async function Import({ params }: { params: RecordParams }) {
  const actor = await requireActor('imports.run');
  const id = await readId(params);
  const record = await orNull(showImport(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: exchangeKeys.importRun(id), load: async () => record }], <ImportPage id={id} />);
}
