import { answerRemark } from '@/lib/bench/service/work';
import { benchRecord } from '@/lib/bench/wire';
import { remarkAnswerRequest } from '@/lib/bench/wire-acts';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: remarkAnswerRequest,
  response: benchRecord,
  service: ({ context, params, body }) => answerRemark(context, params.id, body),
});
