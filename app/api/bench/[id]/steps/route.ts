import { markStep } from '@/lib/bench/service/work';
import { benchRecord } from '@/lib/bench/wire';
import { stepRequest } from '@/lib/bench/wire-acts';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: stepRequest,
  response: benchRecord,
  service: ({ context, params, body }) => markStep(context, params.id, body),
});
