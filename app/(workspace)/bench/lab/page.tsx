import { benchKeys } from '@/components/bench/keys';
import { LabPage } from '@/components/bench/lab-page';
import { showLab } from '@/lib/bench/service/lab';
import { requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('How this lab works');

export default async function BenchLabPage() {
  const actor = await requireActor('bench.see');
  return withQueries([{ key: benchKeys.lab, load: () => showLab(actor) }], <LabPage />);
}
