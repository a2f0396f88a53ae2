import { defineFileRoute } from '@/lib/platform/http';
import { downloadForecast } from '@/lib/queue/forecast';
import { forecastQuery } from '@/lib/queue/forecast-wire';

export const GET = defineFileRoute({
  permission: 'plan.see',
  query: forecastQuery,
  service: ({ actor, query }) => downloadForecast(actor, query),
});
