import {
  attachmentList,
  attachmentListQuery,
  attachmentRow,
  attachmentUpload,
} from '@/lib/attachments/schema';
import { addFile, listFiles } from '@/lib/attachments/service';
import { defineRoute, defineUploadRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'attachments.see',
  query: attachmentListQuery,
  response: attachmentList,
  service: ({ actor, query }) => listFiles(actor, query),
});

export const POST = defineUploadRoute({
  permission: 'attachments.add',
  query: attachmentUpload,
  response: attachmentRow,
  service: ({ context, query, body }) => addFile(context, query, body),
});
