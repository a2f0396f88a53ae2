import { showSheet } from '@/lib/catalogue/service/record';
import { catalogueRecord } from '@/lib/catalogue/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'catalogue.see',
  params: idParams,
  response: catalogueRecord,
  service: ({ actor, params }) => showSheet(actor, params.id),
});
