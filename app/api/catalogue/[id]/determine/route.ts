import { determinationRequest } from '@/lib/catalogue/schema';
import { determineBird } from '@/lib/catalogue/service/record';
import { catalogueRecord } from '@/lib/catalogue/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'catalogue.amend',
  params: idParams,
  body: determinationRequest,
  response: catalogueRecord,
  service: ({ context, params, body }) => determineBird(context, params.id, body),
});
