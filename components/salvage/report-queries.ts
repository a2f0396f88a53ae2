import { callApi, queryString } from '@/lib/platform/api';
import type { ReportFindRequest } from '@/lib/salvage/schema';
import { salvageRecord } from '@/lib/salvage/wire';
import { type PlaceCheckQuery, placeCheckAnswer } from '@/lib/salvage/wire-place';

/** Sends a report; its own key makes a repeated delivery harmless. */
export const sendReport = (report: ReportFindRequest) =>
  callApi('/api/salvage', {
    method: 'POST',
    body: report,
    schema: salvageRecord,
    idempotencyKey: report.requestKey,
  });

export const checkPlaceOnce = (query: PlaceCheckQuery) =>
  callApi(`/api/salvage/place-check${queryString(query)}`, { schema: placeCheckAnswer });
