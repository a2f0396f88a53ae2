import { changeScribe } from '@/lib/bench/service/work';
import { benchRecord } from '@/lib/bench/wire';
import { scribeRequest } from '@/lib/bench/wire-acts';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: scribeRequest,
  response: benchRecord,
  service: ({ context, params, body }) => changeScribe(context, params.id, body),
});
