import { amendRequest } from '@/lib/catalogue/schema';
import { amendRecord } from '@/lib/catalogue/service/record';
import { catalogueRecord } from '@/lib/catalogue/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'catalogue.amend',
  params: idParams,
  body: amendRequest,
  response: catalogueRecord,
  service: ({ context, params, body }) => amendRecord(context, params.id, body),
});
