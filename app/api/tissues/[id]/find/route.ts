import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { findLostVial } from '@/lib/tissues/service/change';
import { findRequest, vialRecord } from '@/lib/tissues/wire';

export const POST = defineRoute({
  permission: 'tissues.use',
  params: idParams,
  body: findRequest,
  response: vialRecord,
  service: ({ context, params, body }) => findLostVial(context, params.id, body),
});
