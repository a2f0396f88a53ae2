import { changeStyle } from '@/lib/bench/service/work';
import { benchRecord, styleRequest } from '@/lib/bench/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: styleRequest,
  response: benchRecord,
  service: ({ context, params, body }) => changeStyle(context, params.id, body),
});
