import { showPack } from '@/lib/permits/service/rule-packs';
import { packRecord } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'permits.see',
  params: idParams,
  response: packRecord,
  service: ({ actor, params }) => showPack(actor, params.id),
});
