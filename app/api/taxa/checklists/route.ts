import { defineRoute, defineUploadRoute } from '@/lib/platform/http';
import { checklistRow, checklistRows, checklistUpload } from '@/lib/taxa/schema';
import { handInChecklist, listChecklists } from '@/lib/taxa/service/checklists';

export const GET = defineRoute({
  permission: 'taxa.see',
  response: checklistRows,
  service: ({ actor }) => listChecklists(actor),
});

export const POST = defineUploadRoute({
  permission: 'taxa.manage',
  query: checklistUpload,
  response: checklistRow,
  service: ({ context, query, body }) => handInChecklist(context, query, body),
});
