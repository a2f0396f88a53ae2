import { answerRemark } from '@/lib/bench/service/work';
import { benchRecord, remarkAnswerRequest } from '@/lib/bench/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: remarkAnswerRequest,
  response: benchRecord,
  service: ({ context, params, body }) => answerRemark(context, params.id, body),
});
