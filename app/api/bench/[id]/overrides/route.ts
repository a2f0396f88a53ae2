import { explainWarning } from '@/lib/bench/service/work';
import { benchRecord } from '@/lib/bench/wire';
import { overrideRequest } from '@/lib/bench/wire-acts';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: overrideRequest,
  response: benchRecord,
  service: ({ context, params, body }) => explainWarning(context, params.id, body),
});
