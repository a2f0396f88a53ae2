import { takeBack } from '@/lib/bench/service/review';
import { benchRecord } from '@/lib/bench/wire';
import { takeBackRequest } from '@/lib/bench/wire-acts';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.send',
  params: idParams,
  body: takeBackRequest,
  response: benchRecord,
  service: ({ context, params, body }) => takeBack(context, params.id, body),
});
