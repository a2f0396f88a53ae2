import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { taxonRecord } from '@/lib/taxa/schema';
import { showTaxon } from '@/lib/taxa/service/taxa';

export const GET = defineRoute({
  permission: 'taxa.see',
  params: idParams,
  response: taxonRecord,
  service: ({ actor, params }) => showTaxon(actor, params.id),
});
