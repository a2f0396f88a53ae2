import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { endVial } from '@/lib/tissues/service/change';
import { endRequest, vialRecord } from '@/lib/tissues/wire';

export const POST = defineRoute({
  permission: 'tissues.use',
  params: idParams,
  body: endRequest,
  response: vialRecord,
  service: ({ context, params, body }) => endVial(context, params.id, body),
});
