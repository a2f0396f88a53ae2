import { defineRoute } from '@/lib/platform/http';
import { showForecast } from '@/lib/queue/forecast';
import { backlogForecast, forecastQuery } from '@/lib/queue/forecast-wire';

export const GET = defineRoute({
  permission: 'plan.see',
  query: forecastQuery,
  response: backlogForecast,
  service: ({ actor, query }) => showForecast(actor, query),
});
