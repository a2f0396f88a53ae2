import { followBirdsRequest } from '@/lib/notices/schema';
import { followBirds } from '@/lib/notices/service/following';
import { bulkAnswer } from '@/lib/platform/bulk-wire';
import { defineRoute } from '@/lib/platform/http';

export const POST = defineRoute({
  permission: 'comments.see',
  body: followBirdsRequest,
  response: bulkAnswer,
  service: ({ context, body }) => followBirds(context, body),
});
