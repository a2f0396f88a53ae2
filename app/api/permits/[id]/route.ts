import { showPermit } from '@/lib/permits/service/permits';
import { permitRecord } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'permits.see',
  params: idParams,
  response: permitRecord,
  service: ({ actor, params }) => showPermit(actor, params.id),
});
