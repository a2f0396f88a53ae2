import { deaccessionRequest } from '@/lib/catalogue/schema';
import { deaccessionMaterial } from '@/lib/catalogue/service/record';
import { catalogueRecord } from '@/lib/catalogue/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'catalogue.dispose',
  params: idParams,
  body: deaccessionRequest,
  response: catalogueRecord,
  service: ({ context, params, body }) => deaccessionMaterial(context, params.id, body),
});
