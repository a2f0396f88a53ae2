import { changeStyle } from '@/lib/bench/service/work';
import { benchRecord } from '@/lib/bench/wire';
import { styleRequest } from '@/lib/bench/wire-acts';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: styleRequest,
  response: benchRecord,
  service: ({ context, params, body }) => changeStyle(context, params.id, body),
});
