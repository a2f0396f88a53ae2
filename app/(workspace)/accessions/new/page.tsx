import { AccessionForm } from '@/components/accessions/accession-form';
import { accessionKeys } from '@/components/accessions/queries';
import { listCandidates } from '@/lib/accessions/service';
import { dayIn, now } from '@/lib/platform/clock';
import { requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('New accession');

export default async function NewAccessionPage() {
  const actor = await requireActor('accessions.make');
  return withQueries(
    [{ key: accessionKeys.candidates, load: () => listCandidates(actor, { size: 200 }) }],
    <AccessionForm today={dayIn('UTC', now())} />,
  );
}
