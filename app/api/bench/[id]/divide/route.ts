import { divideCarcass } from '@/lib/bench/service/divide';
import { benchRecord } from '@/lib/bench/wire';
import { divideRequest } from '@/lib/bench/wire-acts';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: divideRequest,
  response: benchRecord,
  service: ({ context, params, body }) => divideCarcass(context, params.id, body),
});
