import { explainWarning } from '@/lib/bench/service/work';
import { benchRecord, overrideRequest } from '@/lib/bench/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: overrideRequest,
  response: benchRecord,
  service: ({ context, params, body }) => explainWarning(context, params.id, body),
});
