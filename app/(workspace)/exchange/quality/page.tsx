import { QualityPage } from '@/components/exchange/quality-page';
import { requireActor, titled } from '@/lib/platform/page';

export const generateMetadata = titled('Quality before release');

export default async function Quality() {
  await requireActor('exports.make');
  return <QualityPage />;
}
