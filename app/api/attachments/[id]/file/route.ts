import { attachmentParams, fileQuery } from '@/lib/attachments/schema';
import { openFile } from '@/lib/attachments/service';
import { defineFileRoute } from '@/lib/platform/http';

export const GET = defineFileRoute({
  permission: 'attachments.see',
  params: attachmentParams,
  query: fileQuery,
  service: ({ context, params, query }) => openFile(context, params.id, query.copy),
});
