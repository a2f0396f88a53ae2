import { attachmentParams, removedAnswer, removeRequest } from '@/lib/attachments/schema';
import { removeFile } from '@/lib/attachments/service';
import { defineRoute } from '@/lib/platform/http';

export const POST = defineRoute({
  permission: 'attachments.remove',
  params: attachmentParams,
  body: removeRequest,
  response: removedAnswer,
  service: ({ context, params, body }) => removeFile(context, params.id, body.reason),
});
