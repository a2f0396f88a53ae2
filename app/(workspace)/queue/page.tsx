import { EnqueueDesk } from '@/components/queue/enqueue-desk';
import { queueKeys } from '@/components/queue/queries';
import { QueueList } from '@/components/queue/queue-list';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { may } from '@/lib/platform/permissions';
import { listQueue } from '@/lib/queue/service';
import { queueListQuery } from '@/lib/queue/wire';

export const generateMetadata = titled('Queue');

export default async function QueuePage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('queue.see');
  const query = await readListQuery(queueListQuery, searchParams);
  return withQueries(
    [{ key: queueKeys.list(query), load: () => listQueue(actor, query) }],
    <>
      <QueueList query={query} mayPlan={may(actor, 'plan.see')} />
      {may(actor, 'queue.prioritise') ? <EnqueueDesk /> : null}
    </>,
  );
}
