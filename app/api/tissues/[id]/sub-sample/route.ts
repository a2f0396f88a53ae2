import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { subSampleVial } from '@/lib/tissues/service/use';
import { subSampleRequest, vialRecord } from '@/lib/tissues/wire';

export const POST = defineRoute({
  permission: 'tissues.use',
  params: idParams,
  body: subSampleRequest,
  response: vialRecord,
  service: ({ context, params, body }) => subSampleVial(context, params.id, body),
});
