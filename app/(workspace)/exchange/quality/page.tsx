import { QualityPage } from '@/components/exchange/quality-page';
import { requireActor } from '@/lib/platform/page';

export const metadata = { title: 'Quality before release' };

export default async function Quality() {
  await requireActor('exports.make');
  return <QualityPage />;
}
