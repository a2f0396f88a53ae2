import { AccessionList } from '@/components/accessions/accession-list';
import { accessionKeys } from '@/components/accessions/queries';
import { accessionListQuery } from '@/lib/accessions/schema';
import { listAccessions, listCandidates } from '@/lib/accessions/service';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { may } from '@/lib/platform/permissions';

export const generateMetadata = titled('Accessions');

export default async function AccessionsPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('accessions.see');
  const query = await readListQuery(accessionListQuery, searchParams);
  return withQueries(
    [
      { key: accessionKeys.list(query), load: () => listAccessions(actor, query) },
      { key: accessionKeys.candidates, load: () => listCandidates(actor, { size: 200 }) },
    ],
    <AccessionList query={query} mayMake={may(actor, 'accessions.make')} />,
  );
}
