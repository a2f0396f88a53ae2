import { ApiReference } from '@/components/exchange/api-reference';
import { requireActor } from '@/lib/platform/page';

export const metadata = { title: 'API' };

export default async function Api() {
  await requireActor('workspace.enter');
  return <ApiReference />;
}
