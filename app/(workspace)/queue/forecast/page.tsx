import { ForecastDesk } from '@/components/queue/forecast-desk';
import { requireActor } from '@/lib/platform/page';

export const metadata = { title: 'Forecast' };

export default async function ForecastPage() {
  await requireActor('plan.see');
  return <ForecastDesk />;
}
