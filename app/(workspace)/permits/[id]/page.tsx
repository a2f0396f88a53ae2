import { notFound } from 'next/navigation';
import { PermitRecord } from '@/components/permits/permit-record';
import { permitKeys } from '@/components/permits/queries';
import { showPermit } from '@/lib/permits/service/permits';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';
import { may } from '@/lib/platform/permissions';

export const generateMetadata = titled('Permit');

export default async function PermitPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('permits.see');
  const id = await readId(params);
  const record = await orNull(showPermit(actor, id));
  if (record === null) notFound();
  return withQueries(
    [{ key: permitKeys.record(id), load: async () => record }],
    <PermitRecord id={id} seesComments={may(actor, 'comments.see')} />,
  );
}
