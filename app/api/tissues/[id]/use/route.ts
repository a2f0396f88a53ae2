import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { takeFromVial } from '@/lib/tissues/service/use';
import { useRequest, vialRecord } from '@/lib/tissues/wire';

export const POST = defineRoute({
  permission: 'tissues.use',
  params: idParams,
  body: useRequest,
  response: vialRecord,
  service: ({ context, params, body }) => takeFromVial(context, params.id, body),
});
