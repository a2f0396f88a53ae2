import { followAnswer, followRequest } from '@/lib/notices/schema';
import { followRecord } from '@/lib/notices/service/following';
import { defineRoute } from '@/lib/platform/http';

export const POST = defineRoute({
  permission: 'comments.see',
  body: followRequest,
  response: followAnswer,
  service: ({ context, body }) => followRecord(context, body),
});
