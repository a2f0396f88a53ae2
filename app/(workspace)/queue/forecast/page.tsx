import { ForecastDesk } from '@/components/queue/forecast-desk';
import { requireActor, titled } from '@/lib/platform/page';

export const generateMetadata = titled('Forecast');

export default async function ForecastPage() {
  await requireActor('plan.see');
  return <ForecastDesk />;
}
