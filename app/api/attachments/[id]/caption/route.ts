import { attachmentParams, attachmentRow, captionRequest } from '@/lib/attachments/schema';
import { captionFile } from '@/lib/attachments/service';
import { defineRoute } from '@/lib/platform/http';

export const POST = defineRoute({
  permission: 'attachments.remove',
  params: attachmentParams,
  body: captionRequest,
  response: attachmentRow,
  service: ({ context, params, body }) => captionFile(context, params.id, body.caption),
});
