import { z } from 'zod';
import { pageOf } from '@/lib/platform/paging';

export const placeRow = z.object({
  id: z.uuid(),
  name: z.string(),
  country: z.string(),
  stateProvince: z.string(),
  county: z.string(),
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  datum: z.string().nullable(),
  uncertaintyM: z.number().nullable(),
  active: z.boolean(),
});
export type PlaceRow = z.infer<typeof placeRow>;
export const placePage = pageOf(placeRow).extend({ mayManage: z.boolean() });
