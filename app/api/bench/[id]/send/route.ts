import { sendToReview } from '@/lib/bench/service/review';
import { benchRecord } from '@/lib/bench/wire';
import { sendRequest } from '@/lib/bench/wire-acts';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.send',
  params: idParams,
  body: sendRequest,
  response: benchRecord,
  service: ({ context, params, body }) => sendToReview(context, params.id, body),
});
