import { switchPack } from '@/lib/permits/service/rule-packs';
import { packRecord, switchPackRequest } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'permits.manage',
  params: idParams,
  body: switchPackRequest,
  response: packRecord,
  service: ({ context, params, body }) => switchPack(context, params.id, body),
});
