import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { changeVial } from '@/lib/tissues/service/change';
import { changeVialRequest, vialRecord } from '@/lib/tissues/wire';

export const POST = defineRoute({
  permission: 'tissues.fill',
  params: idParams,
  body: changeVialRequest,
  response: vialRecord,
  service: ({ context, params, body }) => changeVial(context, params.id, body),
});
