import { FindForm } from '@/components/salvage/find-form';
import { personOf } from '@/lib/platform/actor';
import { requireActor, titled } from '@/lib/platform/page';
import { beginReport } from '@/lib/salvage/service/reading';

export const generateMetadata = titled('Log a found bird');

export default async function NewFindPage() {
  const actor = await requireActor('salvage.log');
  return <FindForm me={{ id: personOf(actor) }} beginning={await beginReport(actor)} />;
}
