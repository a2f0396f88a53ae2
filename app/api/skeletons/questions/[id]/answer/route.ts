import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { answerBoneQuestion } from '@/lib/skeletons/box';
import { answerRequest, skeletonDetail } from '@/lib/skeletons/schema';

export const POST = defineRoute({
  permission: 'materials.advance',
  params: idParams,
  body: answerRequest,
  response: skeletonDetail,
  service: ({ context, params, body }) => answerBoneQuestion(context, params.id, body),
});
