import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import {
  deliveryPage,
  deliveryRow,
  type WebhookRequest,
  type WebhookSwitch,
  webhookMade,
  webhookRow,
  webhookRows,
} from '@/lib/exchange/webhooks/schema';
import { callApi, queryString } from '@/lib/platform/api';
import { exchangeKeys } from './queries';

const ROOT = '/api/exchange/webhooks';

export const webhooksOptions = () =>
  queryOptions({
    queryKey: exchangeKeys.webhooks,
    queryFn: ({ signal }) => callApi(ROOT, { schema: webhookRows, signal }),
  });

export const deliveriesOptions = (after?: string) =>
  queryOptions({
    queryKey: exchangeKeys.deliveries(after),
    queryFn: ({ signal }) =>
      callApi(`${ROOT}/deliveries${queryString({ after, size: 20 })}`, { schema: deliveryPage, signal }),
  });

export function useMakeWebhook() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: WebhookRequest) => callApi(ROOT, { method: 'POST', body, schema: webhookMade }),
    onSuccess: () => queries.invalidateQueries({ queryKey: exchangeKeys.webhooks }),
  });
}

export function useSwitchWebhook() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ id, ...body }: WebhookSwitch & { id: string }) =>
      callApi(`${ROOT}/${id}/switch`, { method: 'POST', body, schema: webhookRow }),
    onSuccess: () => queries.invalidateQueries({ queryKey: exchangeKeys.webhooks }),
  });
}

export function useResendDelivery() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (id: string) =>
      callApi(`${ROOT}/deliveries/${id}/resend`, { method: 'POST', body: {}, schema: deliveryRow }),
    onSuccess: () => queries.invalidateQueries({ queryKey: ['exchange', 'deliveries'] }),
  });
}
