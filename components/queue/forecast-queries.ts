import { queryOptions } from '@tanstack/react-query';
import { callApi, queryString } from '@/lib/platform/api';
import { backlogForecast, type ForecastQuery } from '@/lib/queue/forecast-wire';

export const forecastOptions = (query: ForecastQuery) =>
  queryOptions({
    // Not under 'queue': a simulation is not run again at every change of a bird.
    queryKey: ['queue-forecast', query],
    queryFn: ({ signal }) =>
      callApi(`/api/queue/forecast${queryString(query)}`, { schema: backlogForecast, signal }),
    placeholderData: (previous) => previous,
    staleTime: 10 * 60_000,
  });
