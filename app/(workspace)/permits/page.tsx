import { PermitList } from '@/components/permits/permit-list';
import { permitKeys } from '@/components/permits/queries';
import { listPermits } from '@/lib/permits/service/permits';
import { permitListQuery } from '@/lib/permits/wire';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { may } from '@/lib/platform/permissions';

export const generateMetadata = titled('Permits');

export default async function PermitsPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('permits.see');
  const query = await readListQuery(permitListQuery, searchParams);
  return withQueries(
    [{ key: permitKeys.list(query), load: () => listPermits(actor, query) }],
    <PermitList query={query} mayManage={may(actor, 'permits.manage')} />,
  );
}
